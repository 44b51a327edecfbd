import uuid
from decimal import Decimal

import pytest
from django.urls import reverse

from parts.stock.models import Donor, StockMove
from parts.stock.selectors import on_hand
from shop.floor.services import add_cost
from tests.factories.parts import FitFactory, PartFactory
from tests.factories.shop import StayFactory
from tests.factories.units import MORNING, TODAY, MakerFactory
from tests.parts.stock.stripping import component, leave, machine, strip, take

pytestmark = pytest.mark.django_db


def listed(part="", **more):
    """A strip list as a browser sends it: a motor into a bin, the deck left on, the rest scrap."""
    start = {"on": "2026-10-06", "key": uuid.uuid4()}
    for slug in ("drive-motor", "deck", "running-belt", "lift-motor"):
        start |= {f"{slug}-fate": "scrap", f"{slug}-grade": "", f"{slug}-part": ""}
        start |= {f"{slug}-bin": "", f"{slug}-value": ""}
    motor = {"fate": "take", "grade": "good", "part": part, "bin": "M1", "value": "60"}
    start |= {f"drive-motor-{name}": value for name, value in motor.items()}
    start |= {"deck-fate": "leave", "deck-grade": "worn", "deck-value": "30"}
    return start | more


def our_own(**unit):
    """A machine that we bought for 90 and that stands here."""
    stay = StayFactory(owner=None, came="purchase", unit=machine(**unit))
    add_cost(
        stay=stay,
        sort="purchase",
        amount=Decimal("90.00"),
        on=TODAY,
        document="B00012",
        key=f"B-{stay.pk}",
        by=stay.came_by,
        at=MORNING,
    )
    return stay.unit


@pytest.fixture
def motor():
    return PartFactory(number="CV-77", key="CV77", component=component("drive-motor"))


def test_the_strip_list_names_each_component_and_the_one_part_that_fits(bench, motor):
    unit = our_own()
    FitFactory(part=motor, model=unit.model)
    page = bench.get(reverse("donor-strip", args=[unit.pk]))
    assert "Bin of: drive motor" in page.text
    assert 'value="CV-77"' in page.text
    assert "Unplug it before you open it" in page.text


def test_a_strip_list_makes_a_donor(bench, motor):
    unit = our_own(serial="CV-555", serial_key="CV555")
    page = bench.post(reverse("donor-strip", args=[unit.pk]), listed("cv 77"), follow=True)
    donor = Donor.objects.get()
    assert page.redirect_chain[0][0] == donor.get_absolute_url()
    for words in ("CV-555", "still on it", "on the shelf", "$60.00", "$30.00"):
        assert words in page.text
    assert on_hand([motor])[motor.pk] == Decimal(1)
    assert dict(donor.pieces.values_list("component", "grade")) == {
        "drive-motor": "good",
        "deck": "worn",
        "running-belt": "spent",
        "lift-motor": "spent",
    }


def test_pressing_twice_makes_one_donor_and_says_so(bench, motor):
    unit, said = our_own(), listed("CV-77")
    bench.post(reverse("donor-strip", args=[unit.pk]), said)
    again = bench.post(reverse("donor-strip", args=[unit.pk]), said, follow=True)
    assert "This form was sent before" in again.text
    assert StockMove.objects.count() == 1


@pytest.mark.parametrize(
    ("wrong", "sentence"),
    [
        ({"drive-motor-part": "NO-1"}, "No part has this number."),
        ({"drive-motor-grade": ""}, "Say how good it is."),
        ({"drive-motor-bin": " "}, "Say in which bin it lies."),
        ({"drive-motor-part": ""}, "can carry cost"),
        ({"drive-motor-fate": "eat"}, "Select a valid choice"),
        ({"deck-value": "-3"}, "greater than or equal to 0"),
        ({"on": "2999-01-01"}, "has not come yet"),
        ({"key": ""}, "Open this page again"),
        ({"drive-motor-fate": "scrap", "deck-fate": "scrap"}, "Nothing that is kept can carry"),
    ],
)
def test_a_wrong_list_gets_a_sentence_and_nothing_is_stripped(bench, motor, wrong, sentence):
    page = bench.post(reverse("donor-strip", args=[our_own().pk]), listed("CV-77", **wrong))
    assert page.status_code == 422
    assert sentence in page.text
    assert not Donor.objects.exists()
    assert not StockMove.objects.exists()


def test_a_machine_that_is_a_donor_already_gets_a_sentence(bench, motor):
    unit = our_own()
    strip(leave(), unit=unit)
    page = bench.post(reverse("donor-strip", args=[unit.pk]), listed("CV-77"))
    assert page.status_code == 422
    assert "This machine is a donor already" in page.text


def test_of_several_parts_of_a_number_that_of_the_machines_maker_is_meant(bench, motor):
    PartFactory(number="CV-77", key="CV77", maker=MakerFactory(name="Holmgate"))
    bench.post(reverse("donor-strip", args=[our_own().pk]), listed("CV-77"))
    assert on_hand([motor])[motor.pk] == Decimal(1)


def test_of_several_parts_of_other_makers_none_is_guessed(bench):
    for maker in ("Holmgate", "Pellworth"):
        PartFactory(number="CV-77", key="CV77", maker=MakerFactory(name=maker))
    page = bench.post(reverse("donor-strip", args=[our_own().pk]), listed("CV-77"))
    assert "Several makers have this number: Holmgate, Pellworth" in page.text


@pytest.fixture
def donor():
    return strip(take(value="60"), leave(value="30"))


def address(name, donor):
    return reverse(name, args=[donor.pk, donor.pieces.get(component="deck").pk])


def test_what_was_left_on_is_put_on_the_shelf_later(bench, donor, motor):
    said = {"part": "CV-77", "bin": "D4", "on": "2026-10-06"}
    page = bench.post(address("donor-take", donor), said, follow=True)
    assert "It is on the shelf." in page.text
    assert StockMove.objects.get(part=motor).cost == Decimal(30)


def test_taking_it_twice_gets_a_sentence(bench, donor, motor):
    said = {"part": "CV-77", "bin": "D4", "on": "2026-10-06"}
    bench.post(address("donor-take", donor), said)
    page = bench.post(address("donor-take", donor), said)
    assert page.status_code == 422
    assert "This piece was settled on 6 Oct 2026" in page.text
    assert StockMove.objects.filter(part=motor).count() == 1


def test_a_piece_is_scrapped_with_its_reason(bench, donor):
    page = bench.post(
        address("donor-scrap", donor), {"note": "split", "on": "2026-10-06"}, follow=True
    )
    assert "It is scrapped." in page.text
    assert donor.pieces.get(component="deck").note == "split"


@pytest.mark.parametrize(
    ("name", "said", "sentence"),
    [
        (
            "donor-take",
            {"part": "NO-1", "bin": "D4", "on": "2026-10-06"},
            "No part has this number",
        ),
        ("donor-take", {"part": "CV-77", "bin": "", "on": "2026-10-06"}, "This field is required."),
        ("donor-take", {"part": "CV-77", "bin": "D4", "on": "2026-10-04"}, "came off it before"),
        ("donor-scrap", {"note": "", "on": "2026-10-06"}, "This field is required."),
        ("donor-scrap", {"note": "split", "on": "2999-01-01"}, "has not come yet"),
    ],
)
def test_a_wrong_piece_form_gets_a_sentence(bench, donor, motor, name, said, sentence):
    page = bench.post(address(name, donor), said)
    assert page.status_code == 422
    assert sentence in page.text
    assert donor.pieces.get(component="deck").state == "held"


def test_a_piece_of_another_donor_is_not_found(bench, donor):
    other = strip(leave())
    piece = other.pieces.get()
    assert bench.get(reverse("donor-take", args=[donor.pk, piece.pk])).status_code == 404


def test_each_piece_in_a_bin_has_a_label_with_the_donors_serial(bench):
    donor = strip(take(), leave(), unit=machine(serial="CV-555", serial_key="CV555"))
    page = bench.get(reverse("donor-labels", args=[donor.pk])).text
    assert "CV-555" in page
    assert "drive motor" in page
    assert "deck" not in page


def test_the_list_of_donors_asks_no_more_for_more_donors(reader, django_assert_max_num_queries):
    strip(leave())
    with django_assert_max_num_queries(12) as few:
        assert "$90.00" in reader.get(reverse("donor-list")).text
    for _ in range(5):
        strip(leave())
    with django_assert_max_num_queries(len(few.captured_queries)):
        reader.get(reverse("donor-list"))


@pytest.mark.parametrize("name", ["donor", "donor-strip", "donor-take"])
def test_the_pages_of_a_donor_ask_a_dozen_at_the_most(
    bench, donor, name, django_assert_max_num_queries
):
    StayFactory(owner=None, came="purchase", unit=donor.unit)
    pages = {
        "donor": donor.get_absolute_url(),
        "donor-strip": reverse("donor-strip", args=[donor.unit_id]),
        "donor-take": address("donor-take", donor),
    }
    with django_assert_max_num_queries(12):
        assert bench.get(pages[name]).status_code == 200


def test_a_reader_sees_donors_and_strips_none(reader, donor):
    page = reader.get(donor.get_absolute_url())
    assert "Put on the shelf" not in page.text
    assert reader.post(reverse("donor-strip", args=[donor.unit_id]), {}).status_code == 403
    assert reader.post(address("donor-scrap", donor), {}).status_code == 403


def test_what_a_machine_cost_goes_to_its_pieces_and_it_leaves_our_stock(bench, motor):
    unit = our_own()
    bench.post(reverse("donor-strip", args=[unit.pk]), listed("CV-77"))
    stay = unit.stays.get()
    assert (stay.left, stay.left_document) == ("stripped", "B00012")
    assert sum(cost.amount for cost in stay.costs.all()) == 0
    assert Donor.objects.get().cost == Decimal("90.00")


@pytest.mark.parametrize("owner", ["customer", "nobody"])
def test_a_machine_that_is_not_ours_or_not_here_is_not_taken_apart(bench, motor, owner):
    unit = machine()
    if owner == "customer":
        StayFactory(unit=unit)
    page = bench.post(reverse("donor-strip", args=[unit.pk]), listed("CV-77"), follow=True)
    assert "Only a machine of our own that stands here" in page.text
    assert not Donor.objects.exists()
