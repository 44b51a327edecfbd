"""What became of components that somebody looked at."""

from django.conf import settings
from django.db import models
from django.utils.translation import gettext_lazy as _

from units.catalogue.models import Component, Unit


class Population(models.TextChoices):
    """Where machines come from: each has worn in its own way."""

    PRIVATE = "private", _("offered from a private house")
    REPAIR = "repair", _("brought for repair")
    CLUB = "club", _("from a club")


class ComponentOutcome(models.Model):
    """A component that was looked at, or changed, and what became of it. Only grows.

    ``document`` holds together what was found and what was then done; ``source`` is the look or
    deed itself, and speaks of a component once. Kind and grade are those of the machine's model.
    """

    class Fate(models.TextChoices):
        SOUND = "sound", _("sound")
        SERVICED = "serviced", _("put right without a part")
        UNDECIDED = "undecided", _("not sound, undecided")
        WORN = "worn", _("needs replacing")
        REPLACED = "replaced", _("replaced")

    class State(models.TextChoices):
        RUN = "run", _("could be run")
        POWERED = "powered", _("had power only")
        APART = "apart", _("taken apart")
        UNKNOWN = "unknown", _("not known")

    class Known(models.TextChoices):
        FINDING = "finding", _("found in an inspection")
        WORK = "work", _("done on a job")
        DONOR = "donor", _("found when a donor was taken apart")

    unit = models.ForeignKey(
        Unit, models.PROTECT, verbose_name=_("machine"), related_name="outcomes"
    )
    component = models.ForeignKey(
        Component, models.PROTECT, verbose_name=_("component"), related_name="outcomes"
    )
    fate = models.CharField(_("what became of it"), max_length=10, choices=Fate)
    known = models.CharField(_("how it is known"), max_length=8, choices=Known)
    population = models.CharField(_("where it came from"), max_length=8, choices=Population)
    state = models.CharField(_("how far it could be tried"), max_length=8, choices=State)
    hours = models.PositiveIntegerField(_("hours on it"), null=True)
    document = models.CharField(_("document"), max_length=40, db_index=True)
    source = models.CharField(_("by"), max_length=60)
    looked_on = models.DateField(_("looked at on"), db_index=True)
    recorded_at = models.DateTimeField(_("recorded at"), db_index=True)
    recorded_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, verbose_name=_("recorded by"), related_name="+"
    )

    class Meta:
        ordering = ["looked_on", "id"]
        verbose_name = _("outcome of a component")
        verbose_name_plural = _("outcomes of components")
        constraints = [
            models.UniqueConstraint(
                fields=["unit", "component", "source"], name="outcome_once_a_source"
            ),
            models.CheckConstraint(
                condition=~models.Q(document="") & ~models.Q(source=""),
                name="outcome_names_its_source",
            ),
            models.CheckConstraint(
                condition=models.Q(
                    fate__in=["sound", "serviced", "undecided", "worn", "replaced"],
                    known__in=["finding", "work", "donor"],
                    population__in=["private", "repair", "club"],
                    state__in=["run", "powered", "apart", "unknown"],
                ),
                name="outcome_in_known_words",
            ),
        ]

    def __str__(self):
        return f"{self.component_id}: {self.fate}"
