import uuid
from datetime import timedelta
from decimal import Decimal

import pytest
from django.db import IntegrityError, transaction

from parts.days.models import Calendar
from parts.days.services import DayClosedError
from parts.stock.models import Donor, DonorComponent, StockMove
from parts.stock.selectors import cost_left_on, next_unit_costs, on_hand
from parts.stock.services import StockError, StripLine, scrap_piece, take_off_donor
from tests.factories.parts import BinFactory, PartFactory
from tests.factories.units import MORNING, TODAY, ComponentFactory, PersonFactory
from tests.parts.stock.stripping import component, leave, machine, scrap, strip, take

pytestmark = pytest.mark.django_db
EARLIER, LATER = TODAY - timedelta(days=3), TODAY + timedelta(days=3)


def piece_of(donor, slug):
    return donor.pieces.get(component=slug)


def take_later(piece, part=None, on=TODAY):
    part = part or PartFactory(component=piece.component)
    return take_off_donor(
        piece=piece, part=part, bin=BinFactory(name="B2"), on=on, by=PersonFactory(), at=MORNING
    )


def test_what_is_taken_lies_on_the_shelf_at_its_share_with_the_donors_serial():
    part = PartFactory()
    donor = strip(take(part=part), unit=machine(serial="HG-777", serial_key="HG777"))
    move = piece_of(donor, "drive-motor").move
    assert (move.reason, move.quantity, move.cost) == ("donor", Decimal(1), Decimal(90))
    assert (move.note, move.document) == ("drive motor off HG-777", "B00001")
    assert on_hand([part]) == {part.pk: Decimal(1)}


def test_the_cost_is_shared_over_what_is_kept_by_its_value():
    donor = strip(take(value="60"), leave(value="30"), scrap(), cost="100.00")
    shares = {piece.component_id: piece.cost for piece in donor.pieces.all()}
    assert shares == {
        "drive-motor": Decimal("66.67"),
        "deck": Decimal("33.33"),
        "running-belt": Decimal(0),
    }


def test_without_any_value_all_that_is_kept_shares_alike():
    donor = strip(take(), leave(), cost="90.00")
    assert {piece.cost for piece in donor.pieces.all()} == {Decimal(45)}


def test_each_piece_says_where_it_is():
    donor = strip(take(), leave(), scrap())
    states = dict(donor.pieces.values_list("component", "state"))
    assert states == {"drive-motor": "taken", "deck": "held", "running-belt": "scrapped"}


def test_a_piece_without_a_part_number_lies_in_its_bin_and_carries_no_cost():
    nameless = StripLine(component("deck"), "good", "take", None, "C3")
    donor = strip(take(), nameless)
    piece = piece_of(donor, "deck")
    assert (piece.state, piece.bin.name, piece.cost, piece.move) == ("held", "C3", Decimal(0), None)


def test_a_value_on_a_piece_that_carries_no_cost_is_refused_at_its_row():
    nameless = StripLine(component("deck"), "good", "take", None, "C3", Decimal(5))
    with pytest.raises(StockError, match="can carry cost") as refusal:
        strip(take(), nameless)
    assert (refusal.value.field, refusal.value.row) == ("value", 1)


def test_a_value_below_nothing_is_refused():
    with pytest.raises(StockError, match="worth nothing or more"):
        strip(take(value="-1"))


def test_a_piece_taken_needs_a_bin():
    with pytest.raises(StockError, match="in which bin") as refusal:
        strip(take(bin_name=" "))
    assert (refusal.value.field, refusal.value.row) == ("bin", 0)


def test_a_component_that_the_kind_does_not_have_is_refused():
    stranger = StripLine(ComponentFactory(slug="chain"), "good", "leave")
    with pytest.raises(StockError, match="has no chain"):
        strip(stranger)


def test_a_component_twice_on_the_list_is_refused():
    with pytest.raises(StockError, match="twice"):
        strip(leave(), leave())


def test_a_cost_that_nothing_can_carry_is_refused():
    with pytest.raises(StockError, match="Nothing that is kept"):
        strip(scrap())
    assert not Donor.objects.exists()


def test_a_machine_that_cost_nothing_may_be_scrapped_to_the_last_piece():
    assert strip(scrap(), cost="0").pieces.get().state == "scrapped"


@pytest.mark.parametrize("cost", ["-0.01", "1000000000"])
def test_a_cost_out_of_reason_is_refused(cost):
    with pytest.raises(StockError, match="Check the figure") as refusal:
        strip(cost=cost)
    assert refusal.value.field == "cost"


def test_a_machine_is_stripped_once():
    unit = machine()
    strip(unit=unit)
    with pytest.raises(StockError, match="a donor already, since 5 Oct 2026"):
        strip(unit=unit)
    assert StockMove.objects.count() == 1


def test_the_same_list_sent_twice_strips_once():
    unit, key = machine(), uuid.uuid4()
    first = strip(unit=unit, key=key)
    assert strip(unit=unit, key=key) == first
    assert StockMove.objects.count() == 1


def test_one_wrong_line_leaves_nothing_behind():
    with pytest.raises(StockError):
        strip(take(), take("deck", bin_name=""))
    assert not Donor.objects.exists()
    assert not StockMove.objects.exists()


def test_a_day_to_come_is_refused():
    with pytest.raises(StockError, match="has not come yet"):
        strip(on=LATER)


def test_a_closed_day_takes_no_donor():
    Calendar.objects.update(closed_through=TODAY)
    with pytest.raises(DayClosedError):
        strip()


def test_what_was_left_on_comes_later_at_its_share():
    donor = strip(take(value="60"), leave(value="30"))
    part = PartFactory()
    move = take_later(piece_of(donor, "deck"), part)
    assert (move.cost, move.reason, move.document) == (Decimal(30), "donor", "B00001")
    piece = piece_of(donor, "deck")
    assert (piece.state, piece.part, piece.bin.name) == ("taken", part, "B2")
    assert next_unit_costs([part]) == {part.pk: Decimal(30)}


def test_the_cost_is_on_the_shelf_or_still_on_the_donor():
    donor = strip(take(value="60"), leave(value="30"), leave("lift-motor", value="10"))
    for slug in ("deck", "lift-motor"):
        on_shelf = sum(move.cost for move in StockMove.objects.all())
        assert on_shelf + cost_left_on(donor) == donor.cost
        take_later(piece_of(donor, slug))
    assert cost_left_on(donor) == 0


def test_a_piece_is_taken_once():
    piece = piece_of(strip(leave()), "deck")
    take_later(piece)
    with pytest.raises(StockError, match="settled on 5 Oct 2026: on the shelf"):
        take_later(piece)
    assert StockMove.objects.count() == 1


def test_nothing_comes_off_before_the_machine_was_taken_apart():
    piece = piece_of(strip(leave()), "deck")
    with pytest.raises(StockError, match="nothing came off it before") as refusal:
        take_later(piece, on=EARLIER)
    assert refusal.value.field == "on"


def test_a_piece_left_on_can_be_scrapped_with_its_reason():
    piece = piece_of(strip(take(), leave()), "deck")
    said = {"on": TODAY, "by": PersonFactory(), "at": MORNING}
    with pytest.raises(StockError, match="Say why"):
        scrap_piece(piece=piece, note="", **said)
    gone = scrap_piece(piece=piece, note="split  along the edge", **said)
    assert (gone.state, gone.note, gone.settled_on) == ("scrapped", "split along the edge", TODAY)
    with pytest.raises(StockError, match="settled on"):
        scrap_piece(piece=piece, note="again", **said)


def test_the_database_itself_keeps_a_settled_piece_as_it_is():
    donor = strip(scrap(), take())
    with pytest.raises(IntegrityError, match="stays so"), transaction.atomic():
        DonorComponent.objects.filter(donor=donor).update(grade="new")
