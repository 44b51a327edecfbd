"""Who we deal with, who works here, and how the shop names itself."""

import secrets
from collections.abc import Sequence
from datetime import date

from django.conf import settings
from django.contrib.auth import get_user_model
from django.contrib.auth.models import AbstractBaseUser, Group
from django.db import IntegrityError, transaction
from django.utils.translation import gettext as _

from shop.people.domain.phones import PhoneError, parse_phone
from shop.people.models import Customer, Place, ShopProfile
from shop.people.seats import SEATS

PASSWORD_BYTES = 12


class PersonError(ValueError):
    """A customer, place or person is refused; the text is a sentence to show."""


def read_phone(text: str) -> str:
    """``text`` in E.164, or nothing for nothing. Raises PhoneError with a translated sentence."""
    if not text.strip():
        return ""
    try:
        return parse_phone(text, settings.TELEPHONE_REGION)
    except PhoneError as error:
        raise PhoneError(_(str(error))) from error


@transaction.atomic
def save_customer(
    *,
    customer: Customer | None = None,
    name: str,
    sort: str,
    phone: str,
    email: str,
    note: str,
    known_since: date,
    tax_exempt_reason: str = "",
) -> Customer:
    """Add a customer, or change one. Raises PersonError or PhoneError.

    The same name with the same telephone number is one customer: a second is refused.
    """
    customer = customer or Customer()
    customer.name = _named(name, _("Enter the customer's name."))
    customer.phone = read_phone(phone)
    customer.phone_digits = customer.phone.removeprefix("+")
    twin = Customer.objects.filter(name__iexact=customer.name, phone=customer.phone)
    if twin.exclude(pk=customer.pk).exists():
        raise _known_already(customer)
    customer.sort, customer.email, customer.note = sort, email.strip(), note.strip()
    customer.known_since, customer.tax_exempt_reason = known_since, tax_exempt_reason.strip()
    try:
        with transaction.atomic():
            customer.save()
    except IntegrityError as error:  # the other half of a double press was quicker
        raise _known_already(customer) from error
    return customer


def _known_already(customer: Customer) -> PersonError:
    return PersonError(
        _(
            "%(name)s with this telephone number is a customer already. Open that record, "
            "or add something to the name that tells the two apart."
        )
        % {"name": customer.name}
    )


@transaction.atomic
def add_place(
    *,
    customer: Customer,
    name: str,
    street: str = "",
    town: str = "",
    postcode: str = "",
    access: str = "",
) -> Place:
    """Add a place where the customer's machines stand. Raises PersonError."""
    name = _named(name, _("Enter a name for the place, such as “gym, second floor”."))
    Customer.objects.select_for_update().get(pk=customer.pk)
    if customer.places.filter(name=name).exists():
        raise PersonError(
            _("%(customer)s has a place of this name already. Choose another name.")
            % {"customer": customer}
        )
    return Place.objects.create(
        customer=customer, name=name, street=street, town=town, postcode=postcode, access=access
    )


@transaction.atomic
def save_profile(
    *, name: str, address: str, phone: str, email: str, tax_number: str
) -> ShopProfile:
    """How the shop names itself on papers from now on. Raises PersonError or PhoneError."""
    profile, _added = ShopProfile.objects.update_or_create(
        id=1,
        defaults={
            "name": _named(name, _("Enter the name of the shop.")),
            "address": address.strip(),
            "phone": read_phone(phone),
            "email": email.strip(),
            "tax_number": tax_number.strip(),
        },
    )
    return profile


@transaction.atomic
def add_person(*, username: str, name: str, seats: Sequence[str]) -> tuple[AbstractBaseUser, str]:
    """Add a member of staff with seats; the second value is the password, kept nowhere else.

    Raises PersonError for a name that is taken, or a seat that does not exist.
    """
    users = get_user_model().objects
    username = _named(username, _("Enter a name to sign in with."))
    unknown = [seat for seat in seats if seat not in SEATS]
    if unknown or not seats:
        raise PersonError(
            _("A person needs at least one of these seats: %(seats)s.")
            % {"seats": ", ".join(SEATS)}
        )
    if users.filter(username__iexact=username).exists():
        raise PersonError(
            _("%(username)s signs in here already. Choose another name.") % {"username": username}
        )
    password = secrets.token_urlsafe(PASSWORD_BYTES)
    first, _space, last = name.strip().partition(" ")
    person = users.create_user(username, password=password, first_name=first, last_name=last)
    person.groups.set(Group.objects.filter(name__in=seats))
    return person, password


def _named(text: str, otherwise: str) -> str:
    name = " ".join(text.split())
    if not name:
        raise PersonError(otherwise)
    return name
