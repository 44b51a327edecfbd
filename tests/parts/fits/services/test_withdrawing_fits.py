"""A fit that was wrong: its row stays with the reason and counts nowhere."""

from datetime import timedelta
from decimal import Decimal

import pytest
from django.db import IntegrityError, transaction

from parts.fits.models import Fit
from parts.fits.selectors import fits_of, fitting_parts, fittings, part_page, part_rows
from parts.fits.services import PartError, add_fit, take_back_fit, withdraw_fit
from tests.factories.parts import FitFactory
from tests.factories.units import MORNING, PersonFactory

pytestmark = pytest.mark.django_db


def withdraw(fit, reason="the board of the long frame is another one"):
    return withdraw_fit(fit=fit, reason=reason, by=PersonFactory(), at=MORNING)


def again(fit, evidence="tried on"):
    said = {"part": fit.part, "model": fit.model, "quantity": Decimal(2), "evidence": evidence}
    return add_fit(**said, by=PersonFactory(), at=MORNING)


def test_it_counts_nowhere_and_stays_with_the_reason():
    fit = FitFactory()
    slug = fit.part.component_id
    withdraw(fit)
    assert fits_of([fit.model]) == {fit.model_id: []}
    assert fitting_parts(fit.model, [slug]) == {slug: []}
    assert fittings([fit.model]) == {fit.model_id: {}}
    assert part_rows().get().model_count == 0
    [shown] = part_page().get().known_fits
    assert shown.withdrawn_because == "the board of the long frame is another one"


def test_by_what_was_known_before_it_still_fitted():
    fit = FitFactory(recorded_at=MORNING - timedelta(days=2))
    withdraw(fit)
    slug = fit.part.component_id
    then = fittings([fit.model], known_at=MORNING - timedelta(days=1))
    assert [one.part for one in then[fit.model_id][slug]] == [fit.part]
    assert fittings([fit.model], known_at=MORNING) == {fit.model_id: {}}


@pytest.mark.parametrize("reason", ["", "  "])
def test_a_reason_is_wanted(reason):
    fit = FitFactory()
    with pytest.raises(PartError, match="why it was wrong") as refusal:
        withdraw(fit, reason)
    assert refusal.value.field == "reason"
    assert fits_of([fit.model])[fit.model_id] == [fit]


def test_it_is_withdrawn_once():
    fit = withdraw(FitFactory())
    with pytest.raises(PartError, match="withdrawn before: the board"):
        withdraw(fit, "again")


def test_on_new_evidence_it_may_be_written_down_anew():
    fit = withdraw(FitFactory())
    anew = again(fit)
    assert anew.pk != fit.pk
    assert fits_of([fit.model])[fit.model_id] == [anew]
    with pytest.raises(PartError, match="written down already: tried on"):
        again(fit)


def test_a_use_taken_back_leaves_what_a_person_withdrew():
    fit = withdraw(FitFactory(evidence="used on job J00012"))
    assert not take_back_fit(part=fit.part, evidence="used on job J00012")
    assert Fit.objects.get() == fit


def test_the_database_keeps_it_as_it_is():
    fit = withdraw(FitFactory())
    fit.withdrawn_because = "nobody knows"
    with pytest.raises(IntegrityError, match="stays as it is"), transaction.atomic():
        fit.save()
    with pytest.raises(IntegrityError, match="stays as it is"), transaction.atomic():
        fit.delete()


def test_the_database_wants_who_and_why_with_the_moment():
    with pytest.raises(IntegrityError, match="fit_withdrawn_wholly"), transaction.atomic():
        FitFactory(withdrawn_at=MORNING)
