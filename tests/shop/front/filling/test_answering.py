from datetime import timedelta

from parts.answers.models import Answer
from shop.front.filling.plan import DAYS, SUPPLIERS


def test_answers_are_about_models_components_and_parts(filled):
    answers = Answer.objects.all()
    assert answers.filter(model__isnull=False, component=None).count() == 36
    assert answers.filter(component__isnull=False).count() == 24
    assert answers.filter(part__isnull=False).count() == 240


def test_answers_lie_in_the_six_years_before(filled):
    days = Answer.objects.values_list("given_on", flat=True)
    assert filled.on - timedelta(days=DAYS) < min(days)
    assert max(days) <= filled.on


def test_what_a_maker_ended_is_not_supported_by_him_later(filled):
    for end in Answer.objects.filter(route="maker", status="ended"):
        later = Answer.objects.filter(route="maker", model=end.model, given_on__gt=end.given_on)
        assert set(later.values_list("status", flat=True)) <= {"ended"}


def test_suppliers_are_invented_ones_with_prices(filled):
    listings = Answer.objects.filter(route="supplier")
    assert set(listings.values_list("party", flat=True)) <= set(SUPPLIERS)
    assert not listings.filter(cost=None).exists()
