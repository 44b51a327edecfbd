import pytest

from parts.answers.models import FreshnessRule


@pytest.fixture(autouse=True)
def rules(request):
    """The freshness rules of the reference data, for the tests that have a database."""
    if "django_db" in {mark.name for mark in request.node.iter_markers()}:
        request.getfixturevalue("db")
        for channel in FreshnessRule.Channel.values:
            days = 60 if channel == "listing" else 180
            FreshnessRule.objects.create(channel=channel, days=days, back_order_days=30)
