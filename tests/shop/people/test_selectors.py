import pytest

from shop.people.selectors import MOST_SUGGESTED, customer_page, suggested
from shop.people.services import add_place
from tests.factories.shop import CustomerFactory

pytestmark = pytest.mark.django_db


@pytest.mark.parametrize("text", ["", " ", "A", " a "])
def test_nobody_is_suggested_before_something_is_said(text):
    CustomerFactory(name="Ada Marsh")
    assert not suggested(text)


def test_suggestions_are_few():
    CustomerFactory.create_batch(MOST_SUGGESTED + 3, name="Ada")
    assert len(suggested("ada")) == MOST_SUGGESTED


def test_a_customer_with_many_places_costs_two_queries(django_assert_num_queries):
    customer = CustomerFactory()
    for name in ("Gym", "Home", "Office"):
        add_place(customer=customer, name=name)
    with django_assert_num_queries(2):
        found = customer_page().get(pk=customer.pk)
        assert [place.name for place in found.places.all()] == ["Gym", "Home", "Office"]
