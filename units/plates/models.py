from django.conf import settings
from django.db import models
from django.utils.translation import gettext_lazy as _

from units.catalogue.models import Unit
from units.files.models import StoredFile


class PlateRecord(models.Model):
    """What a person read on a machine's serial plate, with the photo that proves it."""

    unit = models.ForeignKey(Unit, models.PROTECT, verbose_name=_("machine"), related_name="plates")
    photo = models.ForeignKey(
        StoredFile, models.PROTECT, verbose_name=_("photo of the plate"), related_name="+"
    )
    maker_text = models.CharField(_("maker as read"), max_length=80)
    model_text = models.CharField(_("model number as read"), max_length=60)
    serial_text = models.CharField(_("serial number as read"), max_length=60, blank=True)
    confirmed_at = models.DateTimeField(_("confirmed at"))
    confirmed_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, verbose_name=_("confirmed by"), related_name="+"
    )

    class Meta:
        ordering = ["-confirmed_at", "-id"]
        verbose_name = _("plate")
        verbose_name_plural = _("plates")

    def __str__(self):
        return f"{self.maker_text} {self.model_text} {self.serial_text}".strip()
