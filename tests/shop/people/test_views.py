import pytest
from django.urls import reverse

from shop.people.models import Customer, ShopProfile
from tests.factories.shop import CustomerFactory
from tests.factories.units import PersonFactory

pytestmark = pytest.mark.django_db

ADA = {"name": "Ada Marsh", "sort": "person", "phone": "202 555 0114"}


@pytest.fixture
def desk(client):
    client.force_login(PersonFactory(seats=["front desk"]))
    return client


@pytest.fixture
def owner(client):
    client.force_login(PersonFactory(seats=["owner"]))
    return client


def test_the_list_is_narrowed_by_digits(desk):
    CustomerFactory(name="Ada Marsh", phone="+12025550114")
    CustomerFactory(name="Hotel Harrow", phone="+12025550188")
    page = desk.get(reverse("customer-list"), {"text": "0114"}).text
    assert "Ada Marsh" in page
    assert "(202) 555-0114" in page
    assert "Hotel Harrow" not in page


def test_an_empty_list_says_what_to_try(desk):
    assert "No customer fits" in desk.get(reverse("customer-list"), {"text": "zzz"}).text


def test_the_list_costs_no_more_with_more_rows(desk, django_assert_max_num_queries):
    CustomerFactory.create_batch(60)
    with django_assert_max_num_queries(9):
        page = desk.get(reverse("customer-list"), {"page": 2})
    assert len(page.context["customers"]) == 10


def test_a_new_customer_is_saved_and_shown(desk):
    answer = desk.post(reverse("customer-add"), ADA, follow=True)
    assert "Ada Marsh is saved." in answer.text
    assert Customer.objects.get().phone == "+12025550114"


@pytest.mark.parametrize(
    ("change", "field", "words"),
    [
        ({"phone": "call me"}, "phone", "digits, no letters"),
        ({"phone": "555"}, "phone", "too short"),
        ({"name": "  "}, "name", "required"),
        ({"name": "x" * 121}, "name", "120"),
        ({"sort": "ghost"}, "sort", "ghost"),
        ({"email": "nowhere"}, "email", "email"),
    ],
)
def test_wrong_input_is_answered_at_its_field_and_nothing_saved(desk, change, field, words):
    answer = desk.post(reverse("customer-add"), ADA | change)
    assert answer.status_code == 422
    assert words in str(answer.context["form"].errors[field])
    assert not Customer.objects.exists()


def test_a_double_click_makes_one_customer(desk):
    desk.post(reverse("customer-add"), ADA)
    second = desk.post(reverse("customer-add"), ADA)
    assert second.status_code == 422
    assert "customer already" in second.text
    assert Customer.objects.count() == 1


def test_a_customer_is_changed_and_keeps_the_day_of_acquaintance(desk):
    customer = CustomerFactory(name="Ada Marsh", phone="+12025550114")
    form = desk.get(reverse("customer-edit", args=[customer.pk])).context["form"]
    assert form["phone"].value() == "(202) 555-0114"
    desk.post(reverse("customer-edit", args=[customer.pk]), ADA | {"name": "Ada Marsh-Reed"})
    changed = Customer.objects.get()
    assert (changed.name, changed.known_since) == ("Ada Marsh-Reed", customer.known_since)


def test_a_place_is_added_and_stands_on_the_customers_page(desk):
    customer = CustomerFactory()
    answer = desk.post(
        reverse("place-add", args=[customer.pk]), {"name": "Gym", "access": "12 steps"}, follow=True
    )
    assert "12 steps" in answer.text


def test_a_second_place_of_the_name_is_refused(desk):
    address = reverse("place-add", args=[CustomerFactory().pk])
    desk.post(address, {"name": "Gym"})
    second = desk.post(address, {"name": "Gym"})
    assert second.status_code == 422
    assert "Choose another name" in second.text


def test_the_accountant_sees_a_customer_and_no_deed_on_it(client):
    client.force_login(PersonFactory(seats=["accountant"]))
    page = client.get(reverse("customer", args=[CustomerFactory().pk]))
    assert page.status_code == 200
    assert "/edit/" not in page.text


def test_a_technician_is_not_shown_customers(client):
    client.force_login(PersonFactory(seats=["technician"]))
    assert client.get(reverse("customer-list")).status_code == 403


def test_a_suggestion_is_a_choice_of_the_intake_form(desk):
    customer = CustomerFactory(name="Ada <Marsh>", phone="+12025550114")
    answer = desk.get(reverse("suggest-customers"), {"who": "0114"}).text
    assert f'<input type="radio" name="customer" value="{customer.pk}">' in answer
    assert "Ada &lt;Marsh&gt;, (202) 555-0114" in answer


@pytest.mark.parametrize(("text", "words"), [("zzz", "Nobody we know"), ("", "three digits")])
def test_no_suggestion_is_a_sentence(desk, text, words):
    assert words in desk.get(reverse("suggest-customers"), {"who": text}).text


def test_the_owner_names_the_shop(owner):
    said = {"name": "Quarry Street Fitness Repair", "phone": "202 555 0114"}
    answer = owner.post(reverse("shop-profile"), said, follow=True)
    assert "Papers now carry" in answer.text
    assert ShopProfile.objects.get().phone == "+12025550114"


def test_a_shop_without_a_name_is_refused(owner):
    answer = owner.post(reverse("shop-profile"), {"name": ""})
    assert answer.status_code == 422
    assert not ShopProfile.objects.exists()


def test_the_list_leads_to_each_customer(desk):
    customer = CustomerFactory()
    page = desk.get(reverse("customer-list")).text
    assert f'href="{reverse("customer", args=[customer.pk])}"' in page
