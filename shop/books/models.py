from django.conf import settings
from django.db import models
from django.db.models import Q
from django.utils.translation import gettext_lazy as _

from units.rows.fields import MoneyField


class Account(models.Model):
    class Sort(models.TextChoices):
        ASSET = "asset", _("asset")
        LIABILITY = "liability", _("liability")
        EQUITY = "equity", _("equity")
        INCOME = "income", _("income")
        EXPENSE = "expense", _("expense")

    number = models.CharField(_("account"), max_length=10, primary_key=True)
    name = models.CharField(_("name"), max_length=80)
    sort = models.CharField(_("sort"), max_length=10, choices=Sort)

    class Meta:
        ordering = ["number"]
        verbose_name = _("account")
        verbose_name_plural = _("accounts")

    def __str__(self):
        return f"{self.number} {self.name}"


class JournalEntry(models.Model):
    """What one document did to the accounts under one posting rule; written, then sealed."""

    document = models.CharField(_("document"), max_length=60)
    rule = models.CharField(_("posting rule"), max_length=40)
    entry_on = models.DateField(_("day"), db_index=True)
    text = models.CharField(_("text"), max_length=200)
    posted_at = models.DateTimeField(_("posted at"))
    posted_by = models.ForeignKey(
        settings.AUTH_USER_MODEL,
        models.PROTECT,
        verbose_name=_("posted by"),
        related_name="+",
        null=True,
    )
    sealed = models.BooleanField(_("sealed"), default=False)

    class Meta:
        ordering = ["entry_on", "id"]
        verbose_name = _("journal entry")
        verbose_name_plural = _("journal entries")
        constraints = [
            models.UniqueConstraint(
                fields=["document", "rule"], name="one_entry_a_document_and_rule"
            )
        ]

    def __str__(self):
        return f"{self.entry_on} {self.document} {self.rule}"


class JournalLine(models.Model):
    """An amount on an account: debit positive, credit negative."""

    entry = models.ForeignKey(
        JournalEntry, models.PROTECT, verbose_name=_("entry"), related_name="lines"
    )
    account = models.ForeignKey(
        Account, models.PROTECT, verbose_name=_("account"), related_name="lines"
    )
    amount = MoneyField(_("amount"))

    class Meta:
        ordering = ["entry", "id"]
        verbose_name = _("journal line")
        verbose_name_plural = _("journal lines")
        constraints = [
            models.CheckConstraint(condition=~Q(amount=0), name="journal_line_has_an_amount")
        ]

    def __str__(self):
        return f"{self.account_id}: {self.amount}"

    @property
    def debit(self):
        return self.amount if self.amount > 0 else None

    @property
    def credit(self):
        return -self.amount if self.amount < 0 else None
