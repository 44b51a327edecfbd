import uuid

from django.conf import settings
from django.db import models
from django.db.models import Q
from django.utils.translation import gettext_lazy as _

from units.catalogue.models import Unit
from units.files.models import StoredFile
from units.plates.domain.proposal import Proposal
from units.plates.querysets import PlateReadingQuerySet, PlateWalkQuerySet


class PlateWalk(models.Model):
    """A walk past many machines: photos of their plates, taken together at one place."""

    id = models.UUIDField(primary_key=True, default=uuid.uuid4, editable=False)
    place = models.CharField(_("where"), max_length=120)
    opened_at = models.DateTimeField(_("opened at"))
    opened_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, verbose_name=_("opened by"), related_name="+"
    )

    objects = PlateWalkQuerySet.as_manager()

    class Meta:
        ordering = ["-opened_at"]
        verbose_name = _("walk")
        verbose_name_plural = _("walks")

    def __str__(self):
        return self.place


class PlateReading(models.Model):
    """A photo that the reader was asked to read, and what it proposes. Nobody confirmed it yet."""

    class State(models.TextChoices):
        WAITING = "waiting", _("waiting")
        READING = "reading", _("being read")
        READ = "read", _("read")
        UNREAD = "unread", _("not read")

    class Outcome(models.TextChoices):
        SURE = "sure", _("sure")
        LOOK = "look", _("please look")
        TYPE = "type", _("type it")

    class Trouble(models.TextChoices):
        TOO_LONG = "too-long", _("It took longer than a photo may take.")
        TOO_LARGE = "too-large", _("It needed more memory than a photo may take.")
        DIED = "died", _("The reader stopped over this photo.")
        UNREADABLE = "unreadable", _("The picture could not be decoded.")
        INTERRUPTED = "interrupted", _("The computer was stopped while it read this photo.")

    id = models.UUIDField(primary_key=True, default=uuid.uuid4, editable=False)
    walk = models.ForeignKey(
        PlateWalk,
        models.PROTECT,
        verbose_name=_("walk"),
        related_name="readings",
        null=True,
        blank=True,
    )
    photo = models.ForeignKey(
        StoredFile, models.PROTECT, verbose_name=_("photo"), related_name="plate_readings"
    )
    crop = models.ForeignKey(
        StoredFile, models.PROTECT, verbose_name=_("the plate alone"), related_name="+", null=True
    )
    state = models.CharField(
        _("state"), max_length=10, choices=State, default=State.WAITING, db_index=True
    )
    trouble = models.CharField(_("trouble"), max_length=12, choices=Trouble, blank=True)
    outcome = models.CharField(_("outcome"), max_length=4, choices=Outcome, blank=True)
    proposal = models.JSONField(_("proposal"), null=True)
    asked_at = models.DateTimeField(_("asked at"))
    asked_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, verbose_name=_("asked by"), related_name="+"
    )
    begun_at = models.DateTimeField(_("begun at"), null=True)
    ended_at = models.DateTimeField(_("ended at"), null=True)

    objects = PlateReadingQuerySet.as_manager()

    class Meta:
        ordering = ["asked_at", "id"]
        verbose_name = _("reading of a plate")
        verbose_name_plural = _("readings of plates")
        constraints = [
            models.CheckConstraint(
                condition=Q(state="read", outcome__gt="", proposal__isnull=False, trouble="")
                | Q(state="unread", outcome="", proposal__isnull=True, trouble__gt="")
                | Q(
                    state__in=["waiting", "reading"], outcome="", proposal__isnull=True, trouble=""
                ),
                name="reading_says_what_its_state_holds",
            ),
            models.UniqueConstraint(fields=["walk", "photo"], name="photo_once_per_walk"),
        ]

    def __str__(self):
        return f"{self.photo}: {self.get_state_display()}"

    @property
    def read(self) -> Proposal | None:
        return Proposal.from_json(self.proposal) if self.proposal else None


class PlateAside(models.Model):
    """A photo that nobody will confirm: no plate, a slip, an errand that came to nothing."""

    reading = models.OneToOneField(
        PlateReading, models.PROTECT, verbose_name=_("reading"), related_name="aside"
    )
    set_at = models.DateTimeField(_("set aside at"))
    set_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, verbose_name=_("set aside by"), related_name="+"
    )

    class Meta:
        verbose_name = _("photo set aside")
        verbose_name_plural = _("photos set aside")

    def __str__(self):
        return str(self.reading)


class PlateRecord(models.Model):
    """What a person read on a machine's serial plate, with the photo that proves it.

    ``changed`` says what the person made of the reader's proposal: for each field changed, the
    text as proposed and as confirmed (``{"serial": ["CV1O", "CV10"]}``); empty when all was taken
    as it was, None when there was no proposal yet.
    """

    unit = models.ForeignKey(Unit, models.PROTECT, verbose_name=_("machine"), related_name="plates")
    photo = models.ForeignKey(
        StoredFile, models.PROTECT, verbose_name=_("photo of the plate"), related_name="+"
    )
    reading = models.OneToOneField(
        PlateReading, models.PROTECT, verbose_name=_("reading"), related_name="record", null=True
    )
    maker_text = models.CharField(_("maker as read"), max_length=80)
    model_text = models.CharField(_("model number as read"), max_length=60)
    serial_text = models.CharField(_("serial number as read"), max_length=60, blank=True)
    volts = models.CharField(_("volts"), max_length=12, blank=True)
    hertz = models.CharField(_("hertz"), max_length=12, blank=True)
    amps = models.CharField(_("amps"), max_length=12, blank=True)
    made = models.CharField(_("made"), max_length=12, blank=True)
    changed = models.JSONField(_("changed by hand"), null=True)
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
