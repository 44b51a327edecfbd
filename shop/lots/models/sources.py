import uuid

from django.conf import settings
from django.db import models
from django.db.models import Q
from django.utils.translation import gettext as _now
from django.utils.translation import gettext_lazy as _

from shop.lots.domain.lists.source import QUESTIONS
from shop.lots.models.lots import Lot


class LotSource(models.Model):
    """A seller's list as it came: a file or a pasted text, kept for ever, and how far it is read.

    ``parts`` are the blocks of columns that were found, ``chosen`` the roles that a person gave
    columns: ``{"sheet|first row": {"column": role}}``.
    """

    class Way(models.TextChoices):
        FILE = "file", _("sent as a file")
        PASTED = "pasted", _("pasted")

    class State(models.TextChoices):
        WAITING = "waiting", _("waiting")
        READING = "reading", _("being read")
        READ = "read", _("read")
        UNREAD = "unread", _("not read")

    id = models.UUIDField(primary_key=True, default=uuid.uuid4, editable=False)
    lot = models.ForeignKey(Lot, models.PROTECT, verbose_name=_("lot"), related_name="sources")
    way = models.CharField(_("how it came"), max_length=6, choices=Way)
    name = models.CharField(_("name of the file"), max_length=200)
    content = models.BinaryField(_("content"))
    digest = models.CharField(_("SHA-256 of the content"), max_length=64)
    state = models.CharField(_("state"), max_length=8, choices=State, default=State.WAITING)
    trouble = models.CharField(_("trouble"), max_length=400, blank=True)
    rows_done = models.PositiveIntegerField(_("rows read"), default=0)
    rows_all = models.PositiveIntegerField(_("rows in all"), default=0)
    parts = models.JSONField(_("parts"), default=list)
    chosen = models.JSONField(_("columns chosen"), default=dict)
    sent_at = models.DateTimeField(_("sent at"))
    sent_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, verbose_name=_("sent by"), related_name="+"
    )
    begun_at = models.DateTimeField(_("begun at"), null=True)
    ended_at = models.DateTimeField(_("ended at"), null=True)

    class Meta:
        ordering = ["sent_at", "id"]
        verbose_name = _("seller's list")
        verbose_name_plural = _("sellers' lists")
        constraints = [
            models.UniqueConstraint(fields=["lot", "digest"], name="lot_source_once"),
            models.CheckConstraint(
                condition=Q(state="unread", trouble__gt="")
                | Q(state__in=["waiting", "reading", "read"], trouble=""),
                name="lot_source_unread_says_why",
            ),
        ]

    def __str__(self):
        return self.name

    @property
    def waits(self) -> bool:
        return self.state in (self.State.WAITING, self.State.READING)


class SourceRow(models.Model):
    """What a row of a list ended as: a line, no line for a reason, or a question."""

    class Fate(models.TextChoices):
        LINE = "line", _("a line")
        NOT_LINE = "not-line", _("no line")
        QUESTION = "question", _("a question")

    class Reason(models.TextChoices):
        BLANK = "blank", _("empty")
        TITLE = "title", _("title")
        SECTION = "section", _("heading of a section")
        HEADING = "heading", _("headings of columns")
        TOTAL = "total", _("sum")
        NOTE = "note", _("note")
        CONTINUES = "continues", _("goes on with the row above")
        PERSON = "person", _("somebody said that it is none")

    source = models.ForeignKey(
        LotSource, models.CASCADE, verbose_name=_("list"), related_name="rows"
    )
    place = models.PositiveIntegerField(_("place"))
    sheet = models.CharField(_("sheet"), max_length=200)
    row = models.PositiveIntegerField(_("row"))
    upto = models.PositiveIntegerField(_("to row"))
    text = models.CharField(_("as written"), max_length=500, blank=True)
    fate = models.CharField(_("ends as"), max_length=8, choices=Fate)
    reason = models.CharField(_("reason"), max_length=9, choices=Reason, blank=True)
    questions = models.JSONField(_("questions"), default=list)

    class Meta:
        ordering = ["source", "place"]
        verbose_name = _("row of a list")
        verbose_name_plural = _("rows of lists")
        constraints = [
            models.UniqueConstraint(fields=["source", "sheet", "row"], name="source_row_once"),
            models.CheckConstraint(
                condition=Q(fate="not-line", reason__gt="")
                | Q(fate__in=["line", "question"], reason=""),
                name="source_row_no_line_has_reason",
            ),
        ]

    def __str__(self):
        return f"{self.sheet} {self.row}"

    @property
    def sentences(self) -> list[tuple[str, str]]:
        """Each question as its cell and a sentence."""
        return [(one["ref"], _now(QUESTIONS[one["code"]]) % one["named"]) for one in self.questions]
