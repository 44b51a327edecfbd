"""The first question of a day, by every route there is."""

from decimal import Decimal

import pytest
from django.urls import reverse
from django.utils import timezone

from parts.stock.services import StripLine, strip_donor
from parts.support.selectors import coverage_of, keep_ready
from tests.factories.parts import (
    AnswerFactory,
    FitFactory,
    SisterFactory,
    SupersessionFactory,
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


@pytest.fixture
def model():
    """One of which something is known by every route, but whose maker was never asked of all."""
    fit = FitFactory(part__designation="8PJ1244", part__sort="belt")
    row = KindComponentFactory(kind=fit.model.kind, component=fit.part.component, wears=True)
    later = SupersessionFactory(part=fit.part).replaced_by
    sister = FitFactory(model=MachineModelFactory(kind=fit.model.kind))
    SisterFactory(model=fit.model, other=sister.model)
    SupplierPriceFactory(part=later)
    AnswerFactory(model=fit.model, component=row.component)
    strip_donor(
        unit=UnitFactory(model=fit.model), lines=[StripLine(row.component, "good", "leave")],
        cost=Decimal(0), on=TODAY, document="B00001", by=PersonFactory(), at=MORNING,
    )  # fmt: skip
    return fit.model


PAGES = [
    ("model-parts", {}, {}),
    ("model-parts", {}, {"HX-Request": "true"}),
    ("call", {"part": "known"}, {}),
    ("call", {"part": "known"}, {"HX-Request": "true"}),
]


@pytest.mark.parametrize(("name", "asked", "headers"), PAGES)
def test_the_first_page_of_a_day_takes_12_queries_at_most(
    client, model, name, asked, headers, django_assert_max_num_queries
):
    client.force_login(PersonFactory(seats=["owner"]))
    keep_ready(timezone.localdate())  # what the server does beside its pages
    with django_assert_max_num_queries(12):
        assert client.get(reverse(name, args=[model.pk]), asked, headers=headers).status_code == 200


def test_coverage_by_every_route_takes_eight_queries(model, django_assert_num_queries):
    keep_ready(TODAY)
    with django_assert_num_queries(8):
        covered = coverage_of([model], TODAY)[model.pk]
    routes = {offer.route for one in covered.coverage.components for offer in one.offers}
    assert {"donor", "maker", "supplier", "standard"} <= routes


def test_keeping_ready_takes_four_queries_and_two_from_then_on(model, django_assert_num_queries):
    with django_assert_num_queries(4):
        keep_ready(TODAY)
    with django_assert_num_queries(2):
        keep_ready(TODAY)


def test_a_component_that_is_new_to_a_kind_is_seen_when_it_is_kept_anew(model):
    keep_ready(TODAY)
    KindComponentFactory(kind=model.kind, component__slug="fan", component__name="fan")
    keep_ready(TODAY)
    places = [one.place.slug for one in coverage_of([model], TODAY)[model.pk].coverage.components]
    assert "fan" in places


def test_the_odds_are_those_of_a_process_that_kept_nothing(model):
    bare = coverage_of([model], TODAY)[model.pk]
    keep_ready(TODAY)
    assert coverage_of([model], TODAY)[model.pk] == bare
