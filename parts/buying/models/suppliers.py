import uuid

from django.conf import settings
from django.db import models
from django.urls import reverse
from django.utils.translation import gettext_lazy as _


class Supplier(models.Model):
    name = models.CharField(_("supplier"), max_length=120, unique=True)
    phone = models.CharField(_("telephone"), max_length=20, blank=True)

    class Meta:
        ordering = ["name"]
        verbose_name = _("supplier")
        verbose_name_plural = _("suppliers")

    def __str__(self):
        return self.name


class PriceList(models.Model):
    """A supplier's list as it came: what is read from it can be held against it for ever."""

    id = models.UUIDField(primary_key=True, default=uuid.uuid4, editable=False)
    supplier = models.ForeignKey(
        Supplier, models.PROTECT, verbose_name=_("supplier"), related_name="price_lists"
    )
    name = models.CharField(_("name of the file"), max_length=200)
    content = models.BinaryField(_("content"))
    digest = models.CharField(_("SHA-256 of the content"), max_length=64)
    given_on = models.DateField(_("given on"))
    sent_at = models.DateTimeField(_("sent at"))
    sent_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, verbose_name=_("sent by"), related_name="+"
    )

    class Meta:
        ordering = ["-sent_at"]
        verbose_name = _("price list")
        verbose_name_plural = _("price lists")
        constraints = [
            models.UniqueConstraint(
                fields=["supplier", "digest", "given_on"], name="price_list_once_a_day"
            )
        ]

    def __str__(self):
        return self.name

    def get_absolute_url(self):
        return reverse("supplier-list", args=[self.pk])
