from io import StringIO

import pytest
from django.contrib.auth import get_user_model
from django.core.management import CommandError, call_command

from shop.people.seats import seats_of

pytestmark = pytest.mark.django_db


def add(*seats, username="robin"):
    out = StringIO()
    arguments = [part for seat in seats for part in ("--seat", seat)]
    call_command("addperson", username, "--name", "Robin Vale", *arguments, stdout=out)
    return out.getvalue()


def test_the_password_that_is_printed_opens():
    printed = add("front desk", "owner")
    person = get_user_model().objects.get(username="robin")
    password = printed.split("password ")[1].split()[0]
    assert person.check_password(password)
    assert seats_of(person) == ["front desk", "owner"]


def test_a_second_person_of_the_name_is_refused_and_the_first_kept():
    add("owner")
    with pytest.raises(CommandError, match="already"):
        add("technician")
    assert seats_of(get_user_model().objects.get()) == ["owner"]


def test_an_unknown_seat_is_answered_with_the_seats_there_are():
    with pytest.raises(CommandError, match="accountant"):
        add("captain")
