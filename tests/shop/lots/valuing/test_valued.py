from decimal import Decimal

import pytest

from shop.lots.domain.listed import GoodsLine, Wanted
from shop.lots.models import LotLine
from shop.lots.selectors.valued import lines_to_value
from tests.factories.units import MORNING, ComponentFactory, PersonFactory, UnitFactory
from tests.shop.lots.valuing.building import goods, lot, treadmill, walked
from units.inspections.models import ComponentOutcome

pytestmark = pytest.mark.django_db


def test_a_line_goes_in_as_so_many_machines_of_its_model():
    model = treadmill()
    (one,) = lines_to_value(lot({"model": model, "count": 3, "hours": 700, "year": 2019}))
    assert one.wanted == Wanted(model.pk, "treadmill", 700, 2019)
    assert (one.count, one.dead, one.by_odds) == (3, 0, False)


def test_a_line_that_was_left_out_does_not_go_in():
    model = treadmill()
    assert lines_to_value(lot({"model": model, "state": "dropped"})) == []


def test_goods_go_in_by_their_measure():
    (one,) = lines_to_value(lot(goods()))
    assert one == GoodsLine("1", "weight plates", "plates", "lb", Decimal(900), None)


def test_a_note_that_a_machine_does_not_run_is_heard():
    (one,) = lines_to_value(lot({"model": treadmill(), "note": "dead since May"}))
    assert one.dead == one.count


def test_machines_that_somebody_stood_before_go_in_one_by_one():
    made = lot({"model": treadmill(), "count": 4, "hours": 700})
    line = made.lines.get()
    walked(line, 1, hours=5200)
    walked(line, 2, ran="dead")
    walked(line, 3, ran="apart", by_odds=True)
    first, second, third, rest = lines_to_value(made)
    assert (first.key, first.wanted.hours, first.dead) == ("1/1", 5200, 0)
    assert (second.dead, second.by_odds, second.wanted.hours) == (1, False, 700)
    assert (third.dead, third.by_odds) == (1, True)
    assert (rest.key, rest.count) == ("1", 1)


def test_one_that_was_walked_past_and_not_tried_counts_as_not_run():
    made = lot({"model": treadmill()})
    walked(made.lines.get(), 1, ran="unknown")
    (one,) = lines_to_value(made)
    assert one.dead == one.count


def test_what_was_found_of_a_machine_takes_the_place_of_the_odds():
    model = treadmill()
    unit = UnitFactory(model=model)
    made = lot({"model": model})
    walked(made.lines.get(), 1, unit=unit)
    for number, (slug, fate) in enumerate(
        [("running-belt", "sound"), ("running-belt", "worn"), ("fan", "undecided")]
    ):
        ComponentOutcome.objects.create(
            unit=unit,
            component=ComponentFactory(slug=slug),
            fate=fate,
            known="finding",
            state="run",
            population="club",
            looked_on=MORNING.date(),
            document="I1",
            source=f"inspection {number}",
            recorded_at=MORNING,
            recorded_by=PersonFactory(),
        )
    (one,) = lines_to_value(made)
    assert one.found == {"running-belt": True}


def test_more_lines_need_no_more_queries(django_assert_max_num_queries):
    model = treadmill()
    made = lot(*[{"model": model, "count": 2} for _ in range(9)])
    for line in LotLine.objects.all():
        walked(line, 1)
    with django_assert_max_num_queries(4):
        assert len(lines_to_value(made)) == 18
