from datetime import timedelta

import pytest
from django.db import IntegrityError, transaction

from tests.factories.units import MORNING, TODAY, PersonFactory, UnitFactory
from units.recalls.models import RecallCheck
from units.recalls.services import RecallError, record_check

pytestmark = pytest.mark.django_db


def record(**changes):
    said = {"outcome": "none", "source": "the public list", "note": "", "checked_on": TODAY}
    return record_check(unit=UnitFactory(), by=PersonFactory(), at=MORNING, **said | changes)


def test_check_is_kept_with_its_source_and_day():
    check = record(source=" the public list ", note=" all serials compared ")
    assert (check.outcome, check.source) == ("none", "the public list")
    assert (check.note, check.checked_on) == ("all serials compared", TODAY)
    assert check.recorded_at == MORNING


@pytest.mark.parametrize("outcome", ["none", "unsure"])
def test_note_may_be_empty_when_no_recall_fits_for_sure(outcome):
    assert record(outcome=outcome).note == ""


@pytest.mark.parametrize(
    ("wrong", "field"),
    [
        ({"checked_on": TODAY + timedelta(days=1)}, "checked_on"),
        ({"source": "  "}, "source"),
        ({"outcome": "fits", "note": " "}, "note"),
    ],
)
def test_check_that_cannot_stand_is_refused_at_its_field(wrong, field):
    with pytest.raises(RecallError) as refusal:
        record(**wrong)
    assert refusal.value.field == field
    assert not RecallCheck.objects.exists()


def test_outcome_nobody_knows_is_refused():
    with pytest.raises(ValueError, match="maybe"):
        record(outcome="maybe")


def test_check_is_never_changed_or_removed():
    check = record()
    check.outcome = "fits"
    with pytest.raises(IntegrityError, match="only grows"), transaction.atomic():
        check.save()
    with pytest.raises(IntegrityError, match="only grows"), transaction.atomic():
        check.delete()
