import pytest

from shop.people.domain.phones import PhoneError
from shop.people.models import Customer, ShopProfile
from shop.people.seats import OWNER, TECHNICIAN, seats_of
from shop.people.services import PersonError, add_person, add_place, save_customer, save_profile
from tests.factories.shop import CustomerFactory
from tests.factories.units import TODAY, PersonFactory

pytestmark = pytest.mark.django_db


def save(**changes):
    said = {
        "name": "Ada Marsh",
        "sort": "person",
        "phone": "202 555 0114",
        "email": "",
        "note": "",
        "known_since": TODAY,
    }
    return save_customer(**said | changes)


def test_a_customer_is_kept_with_the_number_in_one_form():
    customer = save(name="  Ada   Marsh ")
    customer.refresh_from_db()
    assert (customer.name, customer.phone) == ("Ada Marsh", "+12025550114")
    assert (customer.phone_digits, customer.phone_shown) == ("12025550114", "(202) 555-0114")


def test_a_customer_may_have_no_telephone():
    assert save(phone="  ").phone == ""


def test_a_number_of_letters_leaves_nothing_behind():
    with pytest.raises(PhoneError, match="no letters"):
        save(phone="call me")
    assert not Customer.objects.exists()


def test_a_name_of_spaces_is_refused():
    with pytest.raises(PersonError, match="name"):
        save(name="   ")


def test_the_same_name_and_number_twice_is_refused():
    save()
    with pytest.raises(PersonError, match="already"):
        save(name="ada marsh", phone="+1 (202) 555-0114")
    assert Customer.objects.count() == 1


def test_two_people_may_share_a_telephone():
    save()
    save(name="Bo Marsh")
    assert Customer.objects.filter(phone="+12025550114").count() == 2


def test_a_customer_is_changed_in_place():
    customer = save()
    save(customer=customer, note="Rings twice.")
    assert Customer.objects.get().note == "Rings twice."


def test_a_place_is_added_once_under_its_name():
    customer = CustomerFactory()
    add_place(customer=customer, name="Gym", street="2 Mill Lane", access="12 steps")
    with pytest.raises(PersonError, match="already"):
        add_place(customer=customer, name=" Gym ")
    assert customer.places.get().access == "12 steps"


def test_a_place_needs_a_name():
    with pytest.raises(PersonError, match="name for the place"):
        add_place(customer=CustomerFactory(), name=" ")


def test_the_shop_has_one_profile_however_often_it_is_saved():
    for name in ("Quarry Street", "Quarry Street Fitness Repair"):
        save_profile(name=name, address="", phone="2025550114", email="", tax_number="")
    profile = ShopProfile.objects.get()
    assert (profile.name, profile.phone_shown) == (
        "Quarry Street Fitness Repair",
        "(202) 555-0114",
    )


def test_a_person_gets_seats_and_a_password_that_opens():
    person, password = add_person(
        username="robin", name="Robin Vale Stone", seats=[OWNER, TECHNICIAN]
    )
    assert seats_of(person) == [TECHNICIAN, OWNER]
    assert (person.first_name, person.last_name) == ("Robin", "Vale Stone")
    assert person.check_password(password)


def test_two_passwords_differ():
    one = add_person(username="one", name="One", seats=[OWNER])
    two = add_person(username="two", name="Two", seats=[OWNER])
    assert one[1] != two[1]


@pytest.mark.parametrize("seats", [[], ["captain"], [OWNER, "captain"]])
def test_a_person_without_a_seat_of_ours_is_refused(seats):
    with pytest.raises(PersonError, match="front desk"):
        add_person(username="robin", name="Robin", seats=seats)


def test_a_name_to_sign_in_is_given_once():
    PersonFactory(username="robin")
    with pytest.raises(PersonError, match="already"):
        add_person(username="Robin", name="Robin", seats=[OWNER])
