from decimal import Decimal

import pytest

from shop.lots.models import LotLine, LotMachine, MakerAlias
from shop.lots.services import (
    Facts,
    Look,
    LotError,
    add_line,
    confirm_chosen,
    confirm_list,
    confirm_sure,
    drop_line,
    make_line,
    record_look,
    settle_line,
)
from tests.factories.units import TODAY, KindFactory, MachineModelFactory
from tests.shop.lots.lots import a_list, a_listed_lot, a_lot, act, models
from units.catalogue.models import MachineModel

pytestmark = pytest.mark.django_db


def test_one_act_confirms_all_that_is_sure_and_nothing_else():
    models()
    lot = a_list(["HG 7100", 1], ["7250 tread", 1], ["KR 8", "a few"]).lot
    assert confirm_sure(lot=lot, **act()) == 1
    states = LotLine.objects.order_by("position").values_list("state", flat=True)
    assert list(states) == ["confirmed", "proposed", "proposed"]


def test_a_choice_confirms_lines_with_the_model_chosen():
    hg, other, _kr = models()
    lot = a_list(["7250 tread", 1], ["tread number 7250", 2]).lot
    lines = list(LotLine.objects.order_by("position"))
    chosen = {line.pk: hg.pk for line in lines}
    assert confirm_chosen(lot=lot, chosen=chosen, **act()) == 2
    assert set(LotLine.objects.values_list("model", flat=True)) == {hg.pk}
    assert other.pk != hg.pk


def test_a_line_with_a_question_is_not_confirmed_by_a_choice():
    models()
    lot = a_list(["KR 8", "a few"]).lot
    line = LotLine.objects.get()
    assert confirm_chosen(lot=lot, chosen={line.pk: None}, **act()) == 0


def test_a_model_nobody_knows_is_taken_as_typed_and_waits_for_confirmation():
    models()
    lot = a_list(["Holmgate HG 8888 treadmill", 1]).lot
    confirm_chosen(lot=lot, chosen={LotLine.objects.get().pk: None}, **act())
    model = MachineModel.objects.get(number="HG 8888")
    assert (LotLine.objects.get().model, model.confirmed) == (model, False)


def test_what_a_seller_calls_a_maker_is_remembered():
    hg = models()[0]
    lot = a_lot()
    facts = Facts("Holms 7100", model=hg, maker="Holms & Sons")
    add_line(lot=lot, facts=facts, **act())
    line = LotLine.objects.get()
    settle_line(line=line, facts=facts, **act())
    assert MakerAlias.objects.get().maker == hg.maker
    later = a_list(["Holms & Sons 7100", 1], lot=a_lot(title="Another"))
    assert later.rows.get(row=2).line.model == hg


@pytest.mark.parametrize("preferred", [False, True])
def test_only_a_choice_of_ones_own_teaches_what_a_maker_is_called(preferred):
    hg, other, _kr = models()
    lot = a_list(["Zentora 7100 tread", 1]).lot
    line = LotLine.objects.get()
    line.candidates, line.maker = [[other.pk, 80], [hg.pk, 60]], "Zentora"
    line.save()

    confirm_chosen(lot=lot, chosen={line.pk: hg.pk if preferred else other.pk}, **act())

    assert MakerAlias.objects.exists() == preferred


def test_a_question_is_answered_by_what_a_person_says_of_the_line():
    kr = models()[2]
    lot = a_list(["KR 8", "a few"]).lot
    line = LotLine.objects.get()
    settle_line(line=line, facts=Facts("KR 8", model=kr, count=4), **act())
    line.refresh_from_db()
    assert (line.state, line.count, line.row.fate) == ("confirmed", 4, "line")
    confirm_list(lot=lot, on=TODAY, **act())
    assert LotMachine.objects.count() == 4


@pytest.mark.parametrize(
    ("facts", "field"),
    [
        (Facts(" "), "text"),
        (Facts("a thing"), "kind"),
        (Facts("plates", goods="plates"), "quantity"),
        (Facts("plates", goods="plates", measure="lb", quantity=Decimal(0)), "quantity"),
    ],
)
def test_a_line_that_says_too_little_is_refused_at_its_field(facts, field):
    with pytest.raises(LotError) as refused:
        add_line(lot=a_lot(), facts=facts, **act())
    assert (refused.value.field, LotLine.objects.count()) == (field, 0)


def test_more_serials_than_machines_are_refused():
    facts = Facts("rower", kind=KindFactory(), count=1, serials=["ML1001", "ML1002"])
    with pytest.raises(LotError, match="Raise the count"):
        add_line(lot=a_lot(), facts=facts, **act())


def test_goods_are_lines_by_their_measure():
    facts = Facts("bumpers", goods="plates", measure="lb", quantity=Decimal(600), pieces=14)
    line = add_line(lot=a_lot(), facts=facts, **act())
    line.refresh_from_db()
    assert (line.sort, line.quantity, line.measure, line.model) == ("goods", 600, "lb", None)


def test_a_line_left_out_is_a_row_that_is_none_by_a_persons_word_and_may_come_back():
    models()
    source = a_list(["HG 7100", 1])
    line = LotLine.objects.get()
    drop_line(line=line, **act())
    row = source.rows.get(row=2)
    assert (row.fate, row.reason) == ("not-line", "person")
    again = make_line(lot=source.lot, row=row, **act())
    assert (again, again.state) == (line, "proposed")


def test_a_row_taken_for_none_becomes_a_line_to_settle():
    models()
    source = a_list(["HG 7100", 1], ["Total", 1])
    row = source.rows.get(row=3)
    line = make_line(lot=source.lot, row=row, **act())
    row.refresh_from_db()
    assert (line.state, row.fate, line.ref) == ("proposed", "question", "A3")


def test_a_list_is_not_confirmed_while_a_line_waits():
    models()
    lot = a_list(["HG 7100", 1], ["KR 8", "a few"]).lot
    confirm_sure(lot=lot, **act())
    with pytest.raises(LotError, match="1 line waits"):
        confirm_list(lot=lot, on=TODAY, **act())


def test_a_count_corrected_later_adds_machines_and_loses_none_that_was_looked_at():
    kind, lot = KindFactory(), a_listed_lot()
    line = lot.lines.get()
    settle_line(line=line, facts=Facts("treadmills", kind=kind, count=2), **act())
    second = LotMachine.objects.get(place=2)
    record_look(machine=second, look=Look("runs"), **act())
    with pytest.raises(LotError, match="looked at"):
        settle_line(line=line, facts=Facts("treadmill", kind=kind, count=1), **act())
    with pytest.raises(LotError, match="looked at"):
        drop_line(line=line, **act())
    assert LotMachine.objects.count() == 2


def test_a_merged_model_leads_to_the_one_it_went_into():
    into = models()[0]
    MachineModelFactory(maker=into.maker, number="HG71", key="HG71", merged_into=into)
    a_list(["Holmgate HG71", 1])
    assert LotLine.objects.get().model == into
