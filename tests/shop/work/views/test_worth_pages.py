"""Whether a repair is worth it, weighed with what can be had of its parts."""

import re
from decimal import Decimal
from html import unescape

import pytest
from django.urls import reverse
from django.utils import timezone

from parts.support.selectors import keep_ready
from shop.work.selectors.needed import Word, opened
from shop.work.services import make_estimate
from tests.factories.parts import AnswerFactory
from tests.factories.units import TODAY, KindComponentFactory
from tests.shop.work.bench import a_belt, a_job, looked_at

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("rules")]
GONE = {"status": "ended", "effective_on": TODAY, "channel": "notice"}


@pytest.fixture
def draft(technician):
    """A belt at 120 with an hour at 80, on a kind whose belt wears and whose motor decides."""
    job = a_job()
    belt = a_belt(job, on_hand="0")
    kind = job.unit.model.kind
    KindComponentFactory(kind=kind, component=belt.component, wears=True)
    KindComponentFactory(
        kind=kind,
        component__slug="drive-motor",
        component__name="drive motor",
        critical=True,
        position=2,
    )
    looked_at(job, technician, running_belt="glazed")
    draft = make_estimate(job=job, by=technician, at=job.opened_at)
    draft.lines.filter(line_class="part").update(unit_price=Decimal(120), net=Decimal(120))
    return draft


def pages(client, draft, limit):
    """The words on the parts, and what they lead to: is it worth it?"""
    address = reverse("estimate-parts", args=[draft.job.number, draft.version])
    keep_ready(timezone.localdate())
    with limit(12):
        parts = client.get(address).content.decode()
    (onward,) = set(re.findall(r'href="([^"]+worth/\?parts=[^"]+)"', parts))
    with limit(12):
        worth = client.get(unescape(onward)).content.decode()
    return parts, worth


def test_a_part_that_cannot_be_had_outweighs_any_price(
    client, technician, draft, django_assert_max_num_queries
):
    AnswerFactory(model=draft.job.unit.model, component_id="running-belt", **GONE)
    client.force_login(technician)
    parts, worth = pages(client, draft, django_assert_max_num_queries)
    assert "cannot be had" in parts
    assert "cannot be done so" in worth
    assert "It needs what cannot be had by any route: running belt." in worth


def test_a_part_of_which_nobody_knows_leaves_a_doubt(
    client, technician, draft, django_assert_max_num_queries
):
    client.force_login(technician)
    parts, worth = pages(client, draft, django_assert_max_num_queries)
    assert "not asked" in parts
    assert "doubtful" in worth
    assert "ask before it is promised: running belt." in worth
    assert "can no longer be had" not in worth


def test_a_machine_whose_support_ended_counts_at_less(
    client, technician, draft, django_assert_max_num_queries
):
    """The belt can be had, the motor not: the share of like machines that need one is said."""
    model = draft.job.unit.model
    now = {"given_on": timezone.localdate(), "recorded_at": timezone.now()}
    AnswerFactory(model=model, component_id="running-belt", status="supported", **now)
    AnswerFactory(model=model, component_id="drive-motor", **GONE)
    client.force_login(technician)
    _parts, worth = pages(client, draft, django_assert_max_num_queries)
    said = re.search(
        r"These can no longer be had: drive motor\..* about (\d+) % need one of them", worth
    )
    assert 0 < int(said[1]) < 100
    counted, middle = (
        Decimal(re.search(text, worth)[1].replace(",", ""))
        for text in (r"So it counts at \$([\d,.]+\d)", r"it would fetch about \$([\d,.]+\d)")
    )
    assert counted == pytest.approx(middle * (100 - int(said[1])) / 100, rel=Decimal("0.02"))
    assert f"of the ${counted:,.2f} it counts at" in worth


def test_a_word_is_taken_for_its_own_estimate_and_from_nobody_else():
    sealed = Word(cannot=["deck"], gone={"deck": "deck"}).sealed(7)
    assert opened(sealed, 7) == Word(["deck"], [], {"deck": "deck"})
    assert opened(sealed, 8) is None
    assert opened(sealed[:-1] + "x", 7) is None
    assert opened("", 7) is None


def test_an_estimate_without_lines_has_no_page_of_parts(client, technician, draft):
    draft.lines.all().delete()
    client.force_login(technician)
    address = reverse("estimate-parts", args=[draft.job.number, draft.version])
    assert client.get(address).status_code == 404
