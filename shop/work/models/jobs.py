"""A job and what belongs to it from its first day."""

from django.conf import settings
from django.db import models
from django.db.models import Q
from django.utils.translation import gettext_lazy as _

from shop.floor.models import Stay
from shop.people.models import Customer, Place
from shop.work.querysets import WorkOrderQuerySet
from units.catalogue.models import Unit
from units.inspections.models import Inspection
from units.rows.fields import MoneyField


class WorkOrder(models.Model):
    """A job on one machine, from the counter to the hand-back.

    ``unit`` and ``stay`` are empty for a machine not yet seen. ``owner`` is empty for a machine
    of our own; ``payer`` is empty where the owner pays. ``warranty_of`` is the repair that failed.
    ``technician`` is whose week the job takes; empty while it was given to nobody.
    """

    class Purpose(models.TextChoices):
        CUSTOMER = "customer", _("for a customer")
        OWN = "own", _("for our own stock")
        WARRANTY = "warranty", _("under our own warranty")

    class State(models.TextChoices):
        LOGGED = "logged", _("logged in")
        ESTIMATED = "estimated", _("estimated")
        APPROVED = "approved", _("approved")
        IN_WORK = "in-work", _("in work")
        CLOSED = "closed", _("closed")
        HANDED_BACK = "handed-back", _("handed back")
        CANCELLED = "cancelled", _("cancelled")
        TAKEN_OVER = "taken-over", _("ours now")

    class Outcome(models.TextChoices):
        REPAIRED = "repaired", _("repaired")
        NO_FAULT = "no-fault", _("no fault found")
        DECLINED = "declined", _("declined")
        UNSAFE = "unsafe", _("unsafe")
        BOUGHT = "bought", _("bought by us")

    ENDS = (State.HANDED_BACK, State.CANCELLED, State.TAKEN_OVER)

    number = models.CharField(_("job"), max_length=20, unique=True)
    key = models.UUIDField(_("once-only key"), unique=True)
    purpose = models.CharField(_("work is"), max_length=10, choices=Purpose)
    state = models.CharField(_("state"), max_length=12, choices=State, default=State.LOGGED)
    outcome = models.CharField(_("outcome"), max_length=10, choices=Outcome, blank=True)
    unit = models.ForeignKey(
        Unit, models.PROTECT, verbose_name=_("machine"), related_name="jobs", null=True, blank=True
    )
    stay = models.ForeignKey(
        Stay, models.PROTECT, verbose_name=_("stay"), related_name="jobs", null=True, blank=True
    )
    machine_text = models.CharField(_("machine as told"), max_length=120, blank=True)
    owner = models.ForeignKey(
        Customer,
        models.PROTECT,
        verbose_name=_("owner"),
        related_name="jobs",
        null=True,
        blank=True,
    )
    place = models.ForeignKey(
        Place, models.PROTECT, verbose_name=_("place"), related_name="jobs", null=True, blank=True
    )
    payer = models.ForeignKey(
        Customer,
        models.PROTECT,
        verbose_name=_("payer"),
        related_name="jobs_paid",
        null=True,
        blank=True,
    )
    warranty_of = models.ForeignKey(
        "self",
        models.PROTECT,
        verbose_name=_("under the warranty of"),
        related_name="returns",
        null=True,
        blank=True,
    )
    technician = models.ForeignKey(
        settings.AUTH_USER_MODEL,
        models.PROTECT,
        verbose_name=_("technician"),
        related_name="jobs_given",
        null=True,
        blank=True,
    )
    complaint = models.TextField(_("complaint"))
    arrival_note = models.TextField(_("condition on arrival"), blank=True)
    spend_limit = MoneyField(_("may be spent before we call"), null=True, blank=True)
    promised_on = models.DateField(_("promised for"), null=True, blank=True)
    opened_on = models.DateField(_("opened on"), db_index=True)
    opened_at = models.DateTimeField(_("opened at"))
    opened_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, verbose_name=_("opened by"), related_name="+"
    )
    state_since = models.DateTimeField(_("in this state since"))

    objects = WorkOrderQuerySet.as_manager()

    class Meta:
        ordering = ["-opened_at", "-id"]
        verbose_name = _("job")
        verbose_name_plural = _("jobs")
        constraints = [
            models.CheckConstraint(
                condition=Q(purpose="own", owner=None, payer=None, warranty_of=None)
                | Q(purpose="customer", owner__isnull=False, warranty_of=None)
                | Q(purpose="warranty", owner__isnull=False, warranty_of__isnull=False),
                name="job_owner_fits_its_purpose",
            ),
            models.CheckConstraint(
                condition=Q(unit__isnull=False) | ~Q(machine_text=""), name="job_names_a_machine"
            ),
        ]

    def __str__(self):
        return self.number

    @property
    def is_over(self) -> bool:
        """Whether nothing is done on the machine for this job any more."""
        return self.state in {self.State.CLOSED, *self.ENDS}

    @property
    def is_open(self) -> bool:
        """Whether something is still to be done: the same question as the query ``open()``."""
        over = set(self.ENDS)
        if self.purpose == self.Purpose.OWN:
            over = over | {self.State.CLOSED}
        return self.state not in over

    @property
    def is_free(self) -> bool:
        """Whether its work is charged to nobody, because our own warranty owes it."""
        return self.purpose == self.Purpose.WARRANTY

    @property
    def payer_or_owner(self):
        return self.payer or self.owner

    @property
    def machine(self) -> str:
        return str(self.unit) if self.unit else self.machine_text


class Step(models.Model):
    """One change of a job's state: who, when, from where to where. Only grows."""

    job = models.ForeignKey(WorkOrder, models.PROTECT, verbose_name=_("job"), related_name="steps")
    from_state = models.CharField(_("from"), max_length=12, blank=True)
    to_state = models.CharField(_("to"), max_length=12, choices=WorkOrder.State)
    deed = models.CharField(_("deed"), max_length=12, blank=True)
    note = models.CharField(_("note"), max_length=400, blank=True)
    taken_at = models.DateTimeField(_("taken at"))
    taken_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, verbose_name=_("taken by"), related_name="+"
    )

    class Meta:
        ordering = ["taken_at", "id"]
        verbose_name = _("change of state")
        verbose_name_plural = _("changes of state")

    def __str__(self):
        return f"{self.job_id}: {self.to_state}"


class CameAlong(models.Model):
    """What came with the machine, and whether it went back."""

    class Thing(models.TextChoices):
        SAFETY_KEY = "safety-key", _("safety key")
        CORD = "cord", _("power cord")
        REMOTE = "remote", _("remote control")
        MANUAL = "manual", _("manual")

    job = models.ForeignKey(
        WorkOrder, models.PROTECT, verbose_name=_("job"), related_name="came_along"
    )
    thing = models.CharField(_("thing"), max_length=12, choices=Thing)
    returned = models.BooleanField(_("went back"), default=False)

    class Meta:
        ordering = ["id"]
        verbose_name = _("thing that came along")
        verbose_name_plural = _("things that came along")
        constraints = [models.UniqueConstraint(fields=["job", "thing"], name="thing_once_a_job")]

    def __str__(self):
        return self.thing


class JobInspection(models.Model):
    """That an inspection was made for a job: on arrival or as its final test."""

    job = models.ForeignKey(
        WorkOrder, models.PROTECT, verbose_name=_("job"), related_name="inspections"
    )
    inspection = models.OneToOneField(
        Inspection, models.PROTECT, verbose_name=_("inspection"), related_name="job_link"
    )

    class Meta:
        verbose_name = _("inspection of a job")
        verbose_name_plural = _("inspections of jobs")

    def __str__(self):
        return f"{self.job_id}: {self.inspection_id}"
