"""The shop says itself how long work takes. The loaded minutes: common practice, no source."""

import pytest
from django.urls import reverse

from shop.work.models import FlatRate
from shop.work.services.errors import JobError
from shop.work.services.flat_rates import set_flat_rate
from shop.work.services.proposing import flat_rates
from tests.factories.units import (
    MORNING,
    ComponentFactory,
    KindComponentFactory,
    KindFactory,
    PersonFactory,
)

pytestmark = pytest.mark.django_db


@pytest.fixture
def owner():
    return PersonFactory(first_name="Ilse", last_name="Marl", seats=["owner"])


@pytest.fixture
def kind():
    return KindFactory(slug="treadmill", name="treadmill")


@pytest.fixture
def rate(kind):
    """Replacing a deck takes 75 minutes in every kind."""
    deck = ComponentFactory(slug="deck", name="deck")
    KindComponentFactory(kind=kind, component=deck)
    return FlatRate.objects.create(act="replace", component=deck, minutes=75)


def address(rate):
    return reverse("flat-rate", args=[rate.pk])


def test_the_owner_changes_a_time_and_new_estimates_take_it(client, owner, rate, kind):
    client.force_login(owner)
    assert client.post(address(rate), {"minutes": "90"}).url == reverse("flat-rate-list")
    assert flat_rates(["deck"], kind.pk) == {("replace", "deck"): 90}
    rate.refresh_from_db()
    assert rate.changed_by == owner
    page = client.get(reverse("flat-rate-list")).content.decode()
    assert "1 h 30 min" in page
    assert "Ilse" in page


def test_a_kind_gets_a_time_of_its_own_and_the_others_keep_theirs(client, owner, rate, kind):
    client.force_login(owner)
    for minutes in ("120", "110"):
        client.post(address(rate), {"minutes": minutes, "kind": kind.pk})
    assert flat_rates(["deck"], kind.pk) == {("replace", "deck"): 110}
    assert flat_rates(["deck"], "rower") == {("replace", "deck"): 75}
    own = FlatRate.objects.get(kind=kind)
    assert 'name="kind"' not in client.get(address(own)).content.decode()
    client.post(address(own), {"minutes": "100"})
    assert sorted(FlatRate.objects.values_list("minutes", flat=True)) == [75, 100]


@pytest.mark.parametrize("said", ["", "0", "-5", "1441", "1.5", "ten", "9" * 30])
def test_what_is_no_number_of_minutes_is_refused_at_its_field(client, owner, rate, said):
    client.force_login(owner)
    answer = client.post(address(rate), {"minutes": said})
    assert answer.status_code == 422
    assert answer.context["form"].errors["minutes"]
    assert FlatRate.objects.get().minutes == 75


def test_a_kind_that_has_no_such_component_is_refused(client, owner, rate):
    other = KindFactory(slug="rower", name="rower")
    client.force_login(owner)
    assert client.post(address(rate), {"minutes": "5", "kind": other.pk}).status_code == 422
    words = {"act": "replace", "component": rate.component, "by": owner, "at": MORNING}
    with pytest.raises(JobError, match="no such component"):
        set_flat_rate(kind=other, minutes=5, **words)
    with pytest.raises(JobError, match=r"from 1 to 1,?440"):
        set_flat_rate(kind=None, minutes=0, **words)
    assert FlatRate.objects.get().minutes == 75


def test_a_technician_reads_them_and_changes_none(client, rate):
    client.force_login(PersonFactory(seats=["technician"]))
    page = client.get(reverse("flat-rate-list")).content.decode()
    assert "deck" in page
    assert address(rate) not in page
    assert client.post(address(rate), {"minutes": "1"}).status_code == 403
    assert FlatRate.objects.get().minutes == 75


def test_many_times_take_no_more_queries(client, owner, kind, django_assert_max_num_queries):
    for number in range(60):
        component = ComponentFactory(slug=f"part-{number}")
        FlatRate.objects.create(act="replace", component=component, kind=kind, minutes=5)
    client.force_login(owner)
    with django_assert_max_num_queries(12):
        page = client.get(reverse("flat-rate-list")).content.decode()
    assert page.count("<tr>") == 51
