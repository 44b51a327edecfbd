import uuid
from decimal import Decimal

import pytest
from django.db import IntegrityError, transaction

from shop.lots.domain.recording import lot_of_plain, versions
from shop.lots.models import Valuation
from shop.lots.selectors.bids import bid_page
from shop.lots.services.valuing import ValuationError, reckon_valuation, reckoning, want_again
from shop.lots.services.valuing.tasks import reckon
from tests.factories.units import MORNING, PersonFactory
from tests.shop.lots.valuing.building import goods, lot, treadmill, valued, walked, wanted

pytestmark = pytest.mark.django_db


@pytest.fixture
def club():
    return lot({"model": treadmill(), "count": 3}, goods(), asked=Decimal(1500), kilometres=20)


def again(valuation, key=None):
    row = want_again(valuation=valuation, key=key or uuid.uuid4(), by=PersonFactory(), at=MORNING)
    return reckon_valuation(pk=row.pk, at=MORNING)


def test_a_valuation_keeps_what_it_was_made_of(club):
    kept = valued(club, asked=Decimal(1500))
    kept.refresh_from_db()
    inside = lot_of_plain(kept.inputs)
    assert kept.state == "done"
    assert len(inside.machines) == 3
    assert inside.goods[0].quantity == 900
    assert inside.site.kilometres == 20
    assert kept.versions == versions()
    assert kept.figures["price"] == 1500
    assert kept.figures["profit"]["p10"] < kept.figures["profit"]["p90"]
    assert kept.priors_only


def test_one_that_waits_is_reckoned_once(club):
    row = valued(club)
    assert reckon_valuation(pk=row.pk, at=MORNING) is None


def test_the_worker_is_asked_once_the_valuation_is_written(
    club, django_capture_on_commit_callbacks
):
    with django_capture_on_commit_callbacks() as callbacks:
        wanted(club)
    assert len(callbacks) == 1


def test_the_task_reckons(club):
    row = wanted(club)
    reckon.call(row.pk)
    row.refresh_from_db()
    assert row.state == "done"


def test_a_fault_is_kept_with_the_valuation_and_not_hidden(club, monkeypatch):
    row = wanted(club)
    Valuation.objects.filter(pk=row.pk).update(inputs={"models": []})
    with pytest.raises(KeyError):
        reckon.call(row.pk)
    row.refresh_from_db()
    assert row.state == "failed"
    assert "Try again" in row.trouble


def test_reckoned_again_every_figure_is_the_same(club):
    first = valued(club)
    second = again(first)
    assert second.figures == first.figures
    assert bid_page(second.pk)[1].same


def test_reckoned_again_it_uses_what_was_kept_not_what_is_on_the_list_now(club):
    first = valued(club)
    club.lines.filter(sort="machine").update(count=9)
    assert again(first).figures == first.figures
    assert valued(club).figures != first.figures


def test_where_figures_differ_the_versions_that_changed_are_named(club, monkeypatch):
    with monkeypatch.context() as earlier:
        earlier.setattr(reckoning, "versions", lambda: {**versions(), "numpy": "1.0"})
        earlier.setattr(reckoning, "figures_of", lambda bid: {"calls_first": []})
        first = valued(club)
    page = bid_page(again(first).pk)[1]
    assert not page.same
    assert page.changed == ["numpy"]


def test_a_typed_figure_counts_and_is_kept(club):
    plain, dear = valued(club), valued(club, typed={"price_factor": 1.3})
    assert dear.figures["most_to_pay"] > plain.figures["most_to_pay"]
    assert dear.typed == {"price_factor": 1.3}


def test_machines_not_run_are_worth_a_donor_unless_the_owner_says_otherwise():
    made = lot({"model": treadmill(), "count": 1})
    machine = walked(made.lines.get(), 1, ran="dead")
    donor = valued(made)
    machine.by_odds = True
    machine.save()
    dared = valued(made)
    assert donor.figures["by_odds"] == 0
    assert dared.figures["by_odds"] > 0
    assert dared.figures["break_even"] > donor.figures["break_even"]


@pytest.mark.parametrize(
    ("wish", "said"),
    [
        ({"asked": Decimal(-1)}, "below nothing"),
        ({"typed": {"luck": 1.0}}, "luck"),
        ({"typed": {"lot_weight": 0.8, "machine_weight": 0.8}}, "Lower the weight"),
    ],
)
def test_what_cannot_be_is_refused_in_a_sentence(club, wish, said):
    with pytest.raises(ValuationError, match=said):
        wanted(club, **wish)


def test_an_empty_list_is_not_valued():
    with pytest.raises(ValuationError, match="empty"):
        wanted(lot())


def test_only_what_was_reckoned_is_reckoned_again(club):
    with pytest.raises(ValuationError, match="reckoned"):
        want_again(valuation=wanted(club), key=uuid.uuid4(), by=PersonFactory(), at=MORNING)


def test_one_key_gives_one_valuation(club):
    key, first = uuid.uuid4(), valued(club)
    one, other = (
        again(first, key),
        want_again(valuation=first, key=key, by=PersonFactory(), at=MORNING),
    )
    assert one.pk == other.pk


def test_the_database_keeps_no_finished_valuation_without_figures(club):
    row = wanted(club)
    with pytest.raises(IntegrityError, match="valuation_done_has_figures"), transaction.atomic():
        Valuation.objects.filter(pk=row.pk).update(state="done", ended_at=MORNING)


def test_the_database_lets_nobody_change_a_valuation_that_has_ended(club):
    row = valued(club)
    with pytest.raises(IntegrityError, match="kept as it is"), transaction.atomic():
        Valuation.objects.filter(pk=row.pk).update(seed=2)
