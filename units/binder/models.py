"""What a technician looks up about a model: its papers, its error codes, and notes of the bench.

Rows only grow. What was wrong is taken out by a row of its own, with the reason.
"""

from django.conf import settings
from django.db import models
from django.db.models import Q
from django.utils.translation import gettext_lazy as _

from units.binder.querysets import EntryQuerySet, NoteQuerySet
from units.catalogue.models import Component, MachineModel
from units.files.models import StoredFile


class ModelFile(models.Model):
    """A paper about a model: a PDF or a picture, with a word on what it is."""

    class Shows(models.TextChoices):
        MANUAL = "manual", _("manual")
        DIAGRAM = "diagram", _("parts diagram")
        WIRING = "wiring", _("wiring")
        OTHER = "other", _("other paper")

    model = models.ForeignKey(
        MachineModel, models.PROTECT, verbose_name=_("model"), related_name="files"
    )
    file = models.ForeignKey(StoredFile, models.PROTECT, verbose_name=_("file"), related_name="+")
    shows = models.CharField(_("it is"), max_length=8, choices=Shows)
    title = models.CharField(_("what it is"), max_length=120)
    added_at = models.DateTimeField(_("added at"))
    added_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, verbose_name=_("added by"), related_name="+"
    )

    objects = EntryQuerySet.as_manager()

    class Meta:
        ordering = ["shows", "title", "id"]
        verbose_name = _("paper of a model")
        verbose_name_plural = _("papers of models")
        constraints = [
            models.UniqueConstraint(fields=["model", "file"], name="file_once_a_model"),
            models.CheckConstraint(condition=~Q(title=""), name="file_says_what_it_is"),
        ]

    def __str__(self):
        return self.title


class BenchNote(models.Model):
    """Something to know about a model, or how its service mode is entered."""

    class Sort(models.TextChoices):
        BENCH = "bench", _("a note of the bench")
        SERVICE_MODE = "service-mode", _("how service mode is entered")

    model = models.ForeignKey(
        MachineModel, models.PROTECT, verbose_name=_("model"), related_name="notes"
    )
    key = models.UUIDField(_("once-only key"), unique=True)
    sort = models.CharField(_("it says"), max_length=12, choices=Sort)
    text = models.TextField(_("note"))
    written_at = models.DateTimeField(_("written at"))
    written_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, verbose_name=_("written by"), related_name="+"
    )

    objects = NoteQuerySet.as_manager()

    class Meta:
        ordering = ["-written_at", "-id"]
        verbose_name = _("note of the bench")
        verbose_name_plural = _("notes of the bench")
        constraints = [models.CheckConstraint(condition=~Q(text=""), name="note_says_something")]

    def __str__(self):
        return self.text[:60]


class NotePin(models.Model):
    """That a note was pinned on top, or taken from there: the newest row counts."""

    note = models.ForeignKey(BenchNote, models.PROTECT, verbose_name=_("note"), related_name="pins")
    pinned = models.BooleanField(_("pinned"))
    changed_at = models.DateTimeField(_("changed at"))
    changed_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, verbose_name=_("changed by"), related_name="+"
    )

    class Meta:
        ordering = ["changed_at", "id"]
        verbose_name = _("pin of a note")
        verbose_name_plural = _("pins of notes")

    def __str__(self):
        return f"{self.note_id}: {self.pinned}"


class ErrorCode(models.Model):
    """A code that a model's console shows, what it means, and who says so."""

    model = models.ForeignKey(
        MachineModel, models.PROTECT, verbose_name=_("model"), related_name="error_codes"
    )
    code = models.CharField(_("code"), max_length=20)
    code_key = models.CharField(_("code for matching"), max_length=20)
    meaning = models.CharField(_("what it means"), max_length=300)
    source = models.CharField(_("who says so"), max_length=120)
    components = models.ManyToManyField(
        Component,
        through="SuspectedComponent",
        verbose_name=_("components suspected"),
        related_name="error_codes",
    )
    recorded_at = models.DateTimeField(_("written down at"))
    recorded_by = models.ForeignKey(
        settings.AUTH_USER_MODEL,
        models.PROTECT,
        verbose_name=_("written down by"),
        related_name="+",
    )

    objects = EntryQuerySet.as_manager()

    class Meta:
        ordering = ["code_key", "id"]
        verbose_name = _("error code")
        verbose_name_plural = _("error codes")
        constraints = [
            models.CheckConstraint(
                condition=~Q(code_key="") & ~Q(meaning="") & ~Q(source=""),
                name="error_code_is_whole",
            )
        ]

    def __str__(self):
        return f"{self.code}: {self.meaning}"


class SuspectedComponent(models.Model):
    error_code = models.ForeignKey(
        ErrorCode, models.PROTECT, verbose_name=_("error code"), related_name="suspects"
    )
    component = models.ForeignKey(
        Component, models.PROTECT, verbose_name=_("component"), related_name="+"
    )

    class Meta:
        ordering = ["component__name"]
        verbose_name = _("component suspected")
        verbose_name_plural = _("components suspected")
        constraints = [
            models.UniqueConstraint(
                fields=["error_code", "component"], name="component_once_a_code"
            )
        ]

    def __str__(self):
        return f"{self.error_code_id}: {self.component_id}"


class TakenOut(models.Model):
    """That one paper, note or code was wrong and is no longer shown, and why."""

    file = models.OneToOneField(
        ModelFile, models.PROTECT, verbose_name=_("paper"), related_name="taken_out", null=True
    )
    note = models.OneToOneField(
        BenchNote, models.PROTECT, verbose_name=_("note"), related_name="taken_out", null=True
    )
    error_code = models.OneToOneField(
        ErrorCode, models.PROTECT, verbose_name=_("code"), related_name="taken_out", null=True
    )
    reason = models.CharField(_("why"), max_length=200)
    taken_out_at = models.DateTimeField(_("taken out at"))
    taken_out_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, verbose_name=_("taken out by"), related_name="+"
    )

    class Meta:
        ordering = ["-taken_out_at", "-id"]
        verbose_name = _("entry taken out")
        verbose_name_plural = _("entries taken out")
        constraints = [
            models.CheckConstraint(
                condition=Q(file__isnull=False, note=None, error_code=None)
                | Q(file=None, note__isnull=False, error_code=None)
                | Q(file=None, note=None, error_code__isnull=False),
                name="one_entry_is_taken_out",
            ),
            models.CheckConstraint(condition=~Q(reason=""), name="taken_out_with_a_reason"),
        ]

    def __str__(self):
        return self.reason
