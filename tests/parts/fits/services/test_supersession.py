from datetime import timedelta
from itertools import pairwise

import pytest
from django.db import IntegrityError, transaction

from parts.fits.models import Part, Supersession
from parts.fits.services import (
    PartError,
    supersede_by_number,
    supersede_part,
    withdraw_supersession,
)
from tests.factories.parts import PartFactory, SupersessionFactory
from tests.factories.units import MORNING, TODAY, PersonFactory

pytestmark = pytest.mark.django_db


def become(part, by_part, **changes):
    said = {"on": TODAY, "evidence": "maker's notice"} | changes
    return supersede_part(part=part, by_part=by_part, **said, by=PersonFactory(), at=MORNING)


def line(*numbers):
    """Parts of these numbers, each of which became the next."""
    parts = [PartFactory(number=number, key=number) for number in numbers]
    for part, by_part in pairwise(parts):
        become(part, by_part)
    return parts


def test_a_number_becomes_another_since_a_day_on_somebodys_word():
    old, new = PartFactory(), PartFactory()
    link = become(old, new, evidence=" printed  on the bag ")
    assert (link.part, link.replaced_by, link.on) == (old, new, TODAY)
    assert link.evidence == "printed on the bag"
    assert (link.recorded_at, link.withdrawn_at) == (MORNING, None)


def test_a_chain_that_bites_its_tail_is_refused_with_the_ring_named():
    first, _, last = line("A1", "B2", "C3")
    with pytest.raises(PartError, match="C3 → A1 → B2 → C3") as refusal:
        become(last, first)
    assert refusal.value.field == "number"
    assert Supersession.objects.count() == 2


def test_a_part_is_not_replaced_by_itself():
    part = PartFactory()
    with pytest.raises(PartError, match="by itself"):
        become(part, part)


def test_the_same_said_twice_is_refused_with_how_it_was_known():
    old, new = line("A1", "B2")
    with pytest.raises(PartError, match="maker's notice") as refusal:
        become(old, new, evidence="printed on the bag")
    assert refusal.value.field == "number"
    assert Supersession.objects.count() == 1


@pytest.mark.parametrize(
    ("wrong", "field"),
    [({"evidence": "  "}, "evidence"), ({"on": TODAY + timedelta(days=1)}, "on")],
)
def test_no_evidence_and_a_day_to_come_are_refused_at_their_field(wrong, field):
    with pytest.raises(PartError) as refusal:
        become(PartFactory(), PartFactory(), **wrong)
    assert refusal.value.field == field
    assert not Supersession.objects.exists()


def test_a_set_may_become_several_numbers():
    kit, frame, cover = PartFactory(), PartFactory(), PartFactory()
    become(kit, frame)
    become(kit, cover)
    assert set(Supersession.objects.values_list("replaced_by", flat=True)) == {frame.pk, cover.pk}


def test_a_withdrawn_link_closes_no_ring_and_may_be_told_again():
    first, second = line("A1", "B2")
    link = Supersession.objects.get()
    by = PersonFactory()
    gone = withdraw_supersession(supersession=link, reason=" misread ", by=by, at=MORNING)
    assert (gone.withdrawn_because, gone.withdrawn_by, gone.withdrawn_at) == (
        "misread",
        by,
        MORNING,
    )
    become(second, first)
    withdraw_supersession(supersession=second.became.get(), reason="no", by=by, at=MORNING)
    assert become(first, second).pk != link.pk


def test_a_link_is_withdrawn_once():
    link = SupersessionFactory()
    withdraw_supersession(supersession=link, reason="misread", by=PersonFactory(), at=MORNING)
    with pytest.raises(PartError, match="withdrawn before: misread"):
        withdraw_supersession(supersession=link, reason="again", by=PersonFactory(), at=MORNING)


def test_withdrawing_takes_a_reason():
    link = SupersessionFactory()
    with pytest.raises(PartError) as refusal:
        withdraw_supersession(supersession=link, reason=" ", by=PersonFactory(), at=MORNING)
    assert refusal.value.field == "reason"
    link.refresh_from_db()
    assert link.withdrawn_at is None


def by_number(part, number, **changes):
    said = {"maker": part.maker, "on": TODAY, "evidence": "maker's notice"} | changes
    return supersede_by_number(part=part, number=number, **said, by=PersonFactory(), at=MORNING)


def test_a_later_number_nobody_had_met_is_a_part_of_the_same_name():
    part = PartFactory(name="deck")
    later = by_number(part, "CV-900").replaced_by
    assert (later.number, later.name, later.maker) == ("CV-900", "deck", part.maker)
    assert later.component == part.component


def test_a_later_number_that_is_known_is_that_part():
    old, new = line("A1", "B2")
    third = PartFactory(number="C3", key="C3", maker=new.maker)
    assert by_number(old, "c-3").replaced_by == third


def test_a_refused_chain_leaves_no_new_part_behind():
    part = PartFactory()
    with pytest.raises(PartError):
        by_number(part, "CV-901", evidence="")
    assert not Part.objects.filter(number="CV-901").exists()


@pytest.mark.parametrize(
    "change",
    [
        {"evidence": "another"},
        {"withdrawn_at": MORNING},  # half a withdrawal
        {"on": TODAY - timedelta(days=9)},
    ],
)
def test_the_database_itself_keeps_a_link_as_it_was_told(change):
    link = SupersessionFactory()
    with pytest.raises(IntegrityError), transaction.atomic():
        Supersession.objects.filter(pk=link.pk).update(**change)


def test_the_database_itself_refuses_to_undo_a_withdrawal():
    link = SupersessionFactory()
    withdraw_supersession(supersession=link, reason="misread", by=PersonFactory(), at=MORNING)
    undone = {"withdrawn_at": None, "withdrawn_by": None, "withdrawn_because": ""}
    with pytest.raises(IntegrityError, match="only grows"), transaction.atomic():
        Supersession.objects.filter(pk=link.pk).update(**undone)


def test_the_database_itself_keeps_a_standing_pair_once_and_no_part_by_itself():
    link = SupersessionFactory()
    with pytest.raises(IntegrityError), transaction.atomic():
        SupersessionFactory(part=link.part, replaced_by=link.replaced_by)
    with pytest.raises(IntegrityError), transaction.atomic():
        SupersessionFactory(part=link.part, replaced_by=link.part)
