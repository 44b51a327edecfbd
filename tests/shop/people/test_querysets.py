import pytest

from shop.people.models import Customer
from tests.factories.shop import CustomerFactory

pytestmark = pytest.mark.django_db


@pytest.fixture
def ada():
    CustomerFactory(name="Hotel Harrow", phone="+12025550188")
    return CustomerFactory(name="Ada Marsh", phone="+12025550114")


@pytest.mark.parametrize("text", ["ada", "MARSH", " Marsh ", "555-0114", "114", "(202) 555 01 14"])
def test_a_customer_is_found_by_name_or_digits(ada, text):
    assert list(Customer.objects.matching(text)) == [ada]


def test_two_digits_find_nobody_by_telephone(ada):
    assert not Customer.objects.matching("14").exists()


def test_a_zero_that_is_dialled_at_home_does_not_hide_a_number(ada):
    abroad = CustomerFactory(name="Otto", phone="+49305550114", phone_digits="49305550114")
    assert list(Customer.objects.matching("030 555 0114")) == [abroad]


def test_signs_of_a_search_pattern_are_letters_like_others(ada):
    assert not Customer.objects.matching("%").exists()
