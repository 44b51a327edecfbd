"""On the floor and at the truck."""

from decimal import Decimal

import pytest

from shop.lots.models import Lot, LotMachine, LotStep
from shop.lots.selectors.money import price_after
from shop.lots.services import (
    Facts,
    Look,
    LotError,
    Scan,
    close_loading,
    inspect_on_site,
    pay_lot,
    record_look,
    scan_machine,
    value_by_odds,
)
from tests.factories.pictures import picture, upload
from tests.factories.units import TODAY, KindFactory, ProtocolFactory
from tests.shop.lots.lots import a_listed_lot, act, an_agreed_lot, models

pytestmark = pytest.mark.django_db


def machine_of(lot) -> LotMachine:
    return LotMachine.objects.filter(line__lot=lot).first()


def test_a_look_says_whether_it_runs_and_a_photo_of_the_plate_is_read(own_storage):
    machine = machine_of(a_listed_lot())
    look = Look("runs", serial="ML100200", hours=3412, photo=upload(picture()))
    seen = record_look(machine=machine, look=look, **act())
    assert (seen.ran, seen.hours, seen.reading.state) == ("runs", 3412, "waiting")


@pytest.mark.parametrize("ran", ["dead", "apart"])
def test_one_that_was_not_run_says_why(ran):
    machine = machine_of(a_listed_lot())
    with pytest.raises(LotError, match="why it was not run"):
        record_look(machine=machine, look=Look(ran), **act())
    assert record_look(machine=machine, look=Look(ran, "no power"), **act()).why_not == "no power"


def test_only_of_one_that_was_not_run_the_odds_may_be_chosen_and_running_takes_that_back():
    machine = machine_of(a_listed_lot())
    with pytest.raises(LotError, match="not run"):
        value_by_odds(machine=machine, yes=True)
    record_look(machine=machine, look=Look("dead", "no cord"), **act())
    assert value_by_odds(machine=machine, yes=True).by_odds
    assert not record_look(machine=machine, look=Look("runs"), **act()).by_odds


def test_the_inspection_on_site_follows_the_protocol_for_clubs_and_is_one():
    hg = models()[0]
    protocol = ProtocolFactory(kind=hg.kind, occasion="club")
    machine = machine_of(a_listed_lot(Facts("HG", model=hg, serials=["ML100200"])))
    first = inspect_on_site(machine=machine, **act())
    assert (first.protocol, first.population, first.unit.serial) == (protocol, "club", "ML100200")
    assert inspect_on_site(machine=machine, **act()) == first


def test_an_inspection_needs_a_model():
    machine = machine_of(a_listed_lot())
    with pytest.raises(LotError, match="which model"):
        inspect_on_site(machine=machine, **act())


def test_nothing_is_loaded_before_a_price_is_agreed():
    with pytest.raises(LotError, match="once a price is agreed"):
        scan_machine(machine=machine_of(a_listed_lot()), scan=Scan("loaded"), **act())


def test_a_machine_loaded_as_bought_is_scanned_with_its_supply():
    lot = an_agreed_lot()
    scan = Scan("loaded", "ml-100200", volts=208, plug="6-15", console_locked=True)
    seen = scan_machine(machine=machine_of(lot), scan=scan, **act())
    assert (seen.fate, seen.volts, seen.console_locked, price_after(lot)) == (
        "loaded", 208, True, Decimal(4000),
    )  # fmt: skip


@pytest.mark.parametrize("fate", ["missing", "stripped", "left"])
def test_what_is_not_as_bought_takes_something_off_the_price(fate):
    lot = an_agreed_lot(price="4000.00")
    scan_machine(machine=machine_of(lot), scan=Scan(fate, adjusted=Decimal(350)), **act())
    assert price_after(lot) == Decimal(3650)


@pytest.mark.parametrize(
    ("scan", "field"),
    [
        (Scan("loaded", adjusted=Decimal(10)), "adjusted"),
        (Scan("loaded", "KS999999"), "seen_serial"),
        (Scan("swapped"), "seen_serial"),
        (Scan("missing", adjusted=Decimal(-5)), "adjusted"),
        (Scan("missing", adjusted=Decimal(9000)), "adjusted"),
    ],
)
def test_a_scan_that_cannot_be_is_refused_at_its_field(scan, field):
    machine = machine_of(an_agreed_lot())
    with pytest.raises(LotError) as refused:
        scan_machine(machine=machine, scan=scan, **act())
    machine.refresh_from_db()
    assert (refused.value.field, machine.fate) == (field, "")


def test_another_machine_in_its_place_is_swapped():
    machine = machine_of(an_agreed_lot())
    seen = scan_machine(machine=machine, scan=Scan("swapped", "KS999999"), **act())
    assert (seen.seen_serial, seen.serial) == ("KS999999", "ML100200")


def test_the_truck_leaves_when_everything_is_scanned_and_paid():
    lot = an_agreed_lot(Facts("treadmills", kind=KindFactory(), count=2))
    machines = list(LotMachine.objects.filter(line__lot=lot))
    with pytest.raises(LotError, match="is paid before"):
        close_loading(lot=lot, on=TODAY, **act())
    pay_lot(lot=lot, on=TODAY, **act())
    scan_machine(machine=machines[0], scan=Scan("loaded"), **act())
    with pytest.raises(LotError, match="1 machine was not scanned"):
        close_loading(lot=lot, on=TODAY, **act())
    scan_machine(machine=machines[1], scan=Scan("missing", adjusted=Decimal(900)), **act())
    assert close_loading(lot=lot, on=TODAY, **act()).state == Lot.State.LOADED
    assert LotStep.objects.get(state="loaded").amount == Decimal(3100)
