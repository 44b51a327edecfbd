"""What came from a phone's outbox, so that nothing sent twice is written twice."""

from django.conf import settings
from django.db import models
from django.utils.translation import gettext_lazy as _

from units.inspections.models.inspections import Inspection
from units.inspections.models.protocols import ProtocolStep


class OutboxEntry(models.Model):
    """One entry that was taken: the id made on the phone, and both clocks. Rows only grow.

    Without a ``step`` it finished the inspection. ``device_at`` is what the phone's clock said
    and decides nothing but which of two people's answers is the older one.
    """

    client_key = models.UUIDField(_("id made on the phone"), unique=True)
    inspection = models.ForeignKey(
        Inspection, models.PROTECT, verbose_name=_("inspection"), related_name="outbox_entries"
    )
    step = models.ForeignKey(
        ProtocolStep, models.PROTECT, verbose_name=_("step"), related_name="+", null=True
    )
    device_at = models.DateTimeField(_("answered at, by the phone's clock"))
    received_at = models.DateTimeField(_("received at"))
    recorded_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, verbose_name=_("recorded by"), related_name="+"
    )

    class Meta:
        ordering = ["id"]
        verbose_name = _("entry of an outbox")
        verbose_name_plural = _("entries of an outbox")

    def __str__(self):
        return str(self.client_key)
