"""Whatever is written down today leaves what was known yesterday as it was."""

from dataclasses import replace
from datetime import timedelta
from decimal import Decimal

import pytest
from django.db import transaction
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from parts.answers.selectors import evening_of
from parts.answers.services import set_freshness, withdraw_answer
from parts.buying.services import add_offer
from parts.fits.services import link_sisters, supersede_part, withdraw_fit
from parts.stock.services import StripLine, receive_stock, strip_donor
from parts.support.selectors import coverage_of
from tests.factories.parts import (
    AnswerFactory,
    BinFactory,
    FitFactory,
    SupplierPriceFactory,
)
from tests.factories.units import (
    MORNING,
    TODAY,
    KindComponentFactory,
    MachineModelFactory,
    PersonFactory,
    UnitFactory,
)

pytestmark = pytest.mark.django_db
LONG_AGO, YESTERDAY = TODAY - timedelta(days=120), TODAY - timedelta(days=1)
THEN = MORNING - timedelta(days=100)


@pytest.fixture
def shop():
    """A model with two needed parts, known for long; a maker's word, a listing, a sister-to-be."""
    model = MachineModelFactory()
    place = KindComponentFactory(kind=model.kind, wears=True).component
    fits = [
        FitFactory(model=model, part__component=place, position=side, recorded_at=THEN)
        for side in ("left", "right")
    ]
    told = [
        AnswerFactory(model=model, given_on=LONG_AGO, recorded_at=THEN),
        SupplierPriceFactory(part=fits[0].part, given_on=LONG_AGO, recorded_at=THEN),
    ]
    return {"model": model, "place": place, "fits": fits, "told": told, "by": PersonFactory()}


def shown(model, on, known_at=None):
    """Everything that a reader is shown; the row behind the word knows of its later withdrawal."""
    found = coverage_of([model], on, known_at)[model.pk]
    return replace(found.support, answer=None), found.holds, found.coverage


def cut_freshness(shop, said):
    for channel in ("phone", "listing"):
        set_freshness(channel=channel, days=1, back_order_days=1, **said)


def tell_more(shop, said):
    AnswerFactory(model=shop["model"], status="ended", channel="notice", given_on=LONG_AGO)


def withdraw_the_word(shop, said):
    withdraw_answer(answer=shop["told"][0], reason="another model", **said)


def withdraw_a_fit(shop, said):
    withdraw_fit(fit=shop["fits"][1], reason="too narrow", **said)


def tell_another_part(shop, said):
    FitFactory(model=shop["model"], part__component=shop["place"], position="middle")


def tell_a_later_number(shop, said):
    part = shop["fits"][0].part
    said |= {"on": LONG_AGO, "evidence": "on the bag"}
    later = SupplierPriceFactory(given_on=LONG_AGO, recorded_at=THEN).part
    supersede_part(part=part, by_part=later, **said)


def tell_a_sister_and_strip_it(shop, said):
    other = MachineModelFactory(kind=shop["model"].kind)
    link_sisters(
        model=shop["model"], other=other, components=None, evidence="same parts list", **said
    )
    strip_donor(
        unit=UnitFactory(model=other), cost=Decimal(9), on=LONG_AGO, document="B1",
        lines=[StripLine(shop["place"], "good", "leave", None, "", Decimal(1))], **said,
    )  # fmt: skip


def lay_on_the_shelf(shop, said):
    receive_stock(
        part=shop["fits"][1].part, bin=BinFactory(), quantity=Decimal(2), unit_cost=Decimal(5),
        on=LONG_AGO, document="D1", **said,
    )  # fmt: skip


def offer_an_exchange(shop, said):
    add_offer(
        supplier="Ostramill rebuilds", core_charge=Decimal(60), core_days=30, model=shop["model"],
        component=shop["place"], cost=Decimal(140), lead_days=5, given_on=LONG_AGO,
        given_by="front desk", channel="phone", note="", **said,
    )  # fmt: skip


DEEDS = [
    cut_freshness, tell_more, withdraw_the_word, withdraw_a_fit, tell_another_part,
    tell_a_later_number, tell_a_sister_and_strip_it, lay_on_the_shelf, offer_an_exchange,
]  # fmt: skip


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture], max_examples=10)
@given(st.lists(st.sampled_from(DEEDS), unique=True), st.integers(1, 119))
def test_what_is_written_down_today_changes_nothing_that_was_known(shop, deeds, days_ago):
    on = TODAY - timedelta(days=days_ago)
    with transaction.atomic():
        known = shown(shop["model"], on, evening_of(YESTERDAY))
        for deed in deeds:
            deed(shop, {"by": shop["by"], "at": MORNING})
        assert shown(shop["model"], on, evening_of(YESTERDAY)) == known
        transaction.set_rollback(True)


@pytest.mark.parametrize("deed", DEEDS, ids=lambda deed: deed.__name__)
def test_each_of_them_does_change_what_is_known_today(shop, deed):
    before = shown(shop["model"], TODAY)
    deed(shop, {"by": shop["by"], "at": MORNING})
    assert shown(shop["model"], TODAY) != before
