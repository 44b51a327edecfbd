import uuid

from django.conf import settings
from django.db import models
from django.utils.translation import gettext_lazy as _


class StoredFile(models.Model):
    """An uploaded file after it was checked and, for a picture, drawn again without metadata."""

    class Audience(models.TextChoices):
        BENCH = "bench", _("everyone who works on machines")
        OFFICE = "office", _("owner and accountant")

    id = models.UUIDField(primary_key=True, default=uuid.uuid4, editable=False)
    audience = models.CharField(_("audience"), max_length=10, choices=Audience)
    original_name = models.CharField(_("name as uploaded"), max_length=200)
    original_digest = models.CharField(_("SHA-256 of the upload"), max_length=64, db_index=True)
    media_type = models.CharField(_("media type"), max_length=60)
    path = models.CharField(_("stored as"), max_length=120)
    small_path = models.CharField(_("small copy stored as"), max_length=120, blank=True)
    size = models.PositiveBigIntegerField(_("bytes stored"))
    width = models.PositiveIntegerField(_("width in pixels"), null=True)
    height = models.PositiveIntegerField(_("height in pixels"), null=True)
    stored_at = models.DateTimeField(_("stored at"))
    stored_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, verbose_name=_("stored by"), related_name="+"
    )

    class Meta:
        verbose_name = _("stored file")
        verbose_name_plural = _("stored files")

    def __str__(self):
        return self.original_name
