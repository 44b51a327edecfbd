from django.conf import settings
from django.db import models
from django.db.models.functions import Lower
from django.urls import reverse
from django.utils.translation import gettext_lazy as _

from shop.people.domain.phones import show_phone
from shop.people.querysets import CustomerQuerySet


class ShopProfile(models.Model):
    """One row: how the shop names itself on papers."""

    id = models.PositiveSmallIntegerField(primary_key=True, default=1, editable=False)
    name = models.CharField(_("shop"), max_length=120)
    address = models.CharField(_("address"), max_length=200, blank=True)
    phone = models.CharField(_("telephone"), max_length=20, blank=True)
    email = models.EmailField(_("mail address"), blank=True)
    tax_number = models.CharField(_("tax registration"), max_length=40, blank=True)

    class Meta:
        verbose_name = _("shop")
        verbose_name_plural = _("shop")
        constraints = [models.CheckConstraint(condition=models.Q(id=1), name="one_shop")]

    def __str__(self):
        return self.name

    @property
    def phone_shown(self) -> str:
        return show_phone(self.phone, settings.TELEPHONE_REGION)


class Customer(models.Model):
    """A person or a company: whoever owns, pays for, or keeps a machine."""

    class Sort(models.TextChoices):
        PERSON = "person", _("person")
        COMPANY = "company", _("company")

    name = models.CharField(_("name"), max_length=120)
    sort = models.CharField(_("person or company"), max_length=8, choices=Sort, default=Sort.PERSON)
    phone = models.CharField(_("telephone"), max_length=20, blank=True, help_text=_("E.164"))
    phone_digits = models.CharField(_("digits"), max_length=20, blank=True, db_index=True)
    email = models.EmailField(_("mail address"), blank=True)
    tax_exempt_reason = models.CharField(_("why exempt from tax"), max_length=120, blank=True)
    note = models.CharField(_("note"), max_length=400, blank=True)
    known_since = models.DateField(_("known since"))

    objects = CustomerQuerySet.as_manager()

    class Meta:
        ordering = ["name", "id"]
        verbose_name = _("customer")
        verbose_name_plural = _("customers")
        constraints = [
            models.UniqueConstraint(
                Lower("name"),
                "phone",
                condition=~models.Q(phone=""),
                name="one_customer_of_a_name_and_number",
                violation_error_message=_(
                    "A person of this name with this telephone number is a customer already. Open "
                    "that record, or add something to the name that tells the two apart."
                ),
            )
        ]

    def __str__(self):
        return self.name

    def get_absolute_url(self):
        return reverse("customer", args=[self.pk])

    @property
    def phone_shown(self) -> str:
        return show_phone(self.phone, settings.TELEPHONE_REGION)


class Place(models.Model):
    """Where a customer's machines stand."""

    customer = models.ForeignKey(
        Customer, models.PROTECT, verbose_name=_("customer"), related_name="places"
    )
    name = models.CharField(_("place"), max_length=80)
    street = models.CharField(_("street"), max_length=120, blank=True)
    town = models.CharField(_("town"), max_length=80, blank=True)
    postcode = models.CharField(_("postcode"), max_length=20, blank=True)
    access = models.CharField(_("stairs and access"), max_length=200, blank=True)

    class Meta:
        ordering = ["customer", "name"]
        verbose_name = _("place")
        verbose_name_plural = _("places")
        constraints = [models.UniqueConstraint(fields=["customer", "name"], name="place_name_once")]

    def __str__(self):
        return self.name
