from django.conf import settings
from django.db import models
from django.db.models import Q
from django.utils.translation import gettext_lazy as _

from parts.fits.models import Part
from parts.stock.models import StockMove
from shop.floor.models import Stay
from shop.people.models import Customer, Place
from shop.till.domain.pricing import line_net
from shop.till.models import Invoice, LineClass
from shop.work.querysets import WorkOrderQuerySet
from units.catalogue.models import Component, Unit
from units.files.models import StoredFile
from units.inspections.models import Inspection
from units.rows.fields import MoneyField, QuantityField, UnitCostField


class WorkOrder(models.Model):
    """A job on one machine, from the counter to the hand-back.

    ``unit`` and ``stay`` are empty for a machine not yet seen. ``owner`` is empty for a machine
    of our own; ``payer`` is empty where the owner pays.
    """

    class Purpose(models.TextChoices):
        CUSTOMER = "customer", _("for a customer")
        OWN = "own", _("for our own stock")

    class State(models.TextChoices):
        LOGGED = "logged", _("logged in")
        ESTIMATED = "estimated", _("estimated")
        APPROVED = "approved", _("approved")
        IN_WORK = "in-work", _("in work")
        TESTED = "tested", _("tested")
        CLOSED = "closed", _("closed")
        HANDED_BACK = "handed-back", _("handed back")
        CANCELLED = "cancelled", _("cancelled")

    class Outcome(models.TextChoices):
        REPAIRED = "repaired", _("repaired")
        NO_FAULT = "no-fault", _("no fault found")
        DECLINED = "declined", _("declined")
        UNSAFE = "unsafe", _("unsafe")

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
                condition=Q(purpose="own", owner=None, payer=None)
                | Q(purpose="customer", owner__isnull=False),
                name="job_owner_fits_its_purpose",
            ),
            models.CheckConstraint(
                condition=Q(unit__isnull=False) | ~Q(machine_text=""), name="job_names_a_machine"
            ),
        ]

    def __str__(self):
        return self.number

    @property
    def is_open(self) -> bool:
        """Whether something is still to be done: the same question as the query ``open()``."""
        over = {self.State.HANDED_BACK, self.State.CANCELLED}
        if self.purpose == self.Purpose.OWN:
            over = over | {self.State.CLOSED}
        return self.state not in over

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


class Estimate(models.Model):
    """One version of what the work will cost. Once offered it is never changed."""

    job = models.ForeignKey(
        WorkOrder, models.PROTECT, verbose_name=_("job"), related_name="estimates"
    )
    version = models.PositiveSmallIntegerField(_("version"))
    made_at = models.DateTimeField(_("made at"))
    made_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, verbose_name=_("made by"), related_name="+"
    )
    offered_at = models.DateTimeField(_("offered at"), null=True)
    offered_by = models.ForeignKey(
        settings.AUTH_USER_MODEL,
        models.PROTECT,
        verbose_name=_("offered by"),
        related_name="+",
        null=True,
    )

    class Meta:
        ordering = ["job", "-version"]
        verbose_name = _("estimate")
        verbose_name_plural = _("estimates")
        constraints = [
            models.UniqueConstraint(fields=["job", "version"], name="estimate_version_once"),
            models.CheckConstraint(
                condition=Q(offered_at=None, offered_by=None)
                | Q(offered_at__isnull=False, offered_by__isnull=False),
                name="estimate_offered_by_someone",
            ),
        ]

    def __str__(self):
        return f"{self.job_id} / {self.version}"


class EstimateLine(models.Model):
    """A part, labour or other line. ``reason`` says why it is there, in words."""

    estimate = models.ForeignKey(
        Estimate, models.CASCADE, verbose_name=_("estimate"), related_name="lines"
    )
    position = models.PositiveSmallIntegerField(_("position"))
    line_class = models.CharField(_("class"), max_length=8, choices=LineClass)
    description = models.CharField(_("description"), max_length=200)
    component = models.ForeignKey(
        Component,
        models.PROTECT,
        verbose_name=_("component"),
        related_name="+",
        null=True,
        blank=True,
    )
    part = models.ForeignKey(
        Part, models.PROTECT, verbose_name=_("part"), related_name="+", null=True, blank=True
    )
    quantity = QuantityField(_("quantity"))
    minutes = models.PositiveSmallIntegerField(_("minutes"), null=True, blank=True)
    unit_cost = UnitCostField(_("cost for one"), null=True, blank=True)
    unit_price = MoneyField(_("price for one"))
    net = MoneyField(_("net"))
    reason = models.CharField(_("why"), max_length=400, blank=True)

    class Meta:
        ordering = ["estimate", "position"]
        verbose_name = _("line of an estimate")
        verbose_name_plural = _("lines of estimates")
        constraints = [
            models.UniqueConstraint(fields=["estimate", "position"], name="estimate_position_once"),
            models.CheckConstraint(condition=Q(quantity__gt=0), name="estimate_quantity_positive"),
        ]

    def __str__(self):
        return self.description


class Approval(models.Model):
    """The payer's yes or no to one version of an estimate."""

    class Channel(models.TextChoices):
        COUNTER = "counter", _("at the counter")
        PHONE = "phone", _("by telephone")
        MAIL = "mail", _("in writing")
        LIMIT = "limit", _("within the limit given on arrival")
        OWN = "own", _("for our own stock")

    estimate = models.OneToOneField(
        Estimate, models.PROTECT, verbose_name=_("estimate"), related_name="approval"
    )
    yes = models.BooleanField(_("said yes"))
    given_by = models.CharField(_("who"), max_length=120)
    channel = models.CharField(_("how"), max_length=10, choices=Channel)
    up_to = MoneyField(_("up to, before tax"), null=True, blank=True)
    given_at = models.DateTimeField(_("given at"))
    recorded_by = models.ForeignKey(
        settings.AUTH_USER_MODEL,
        models.PROTECT,
        verbose_name=_("written down by"),
        related_name="+",
    )

    class Meta:
        verbose_name = _("approval")
        verbose_name_plural = _("approvals")
        constraints = [
            models.CheckConstraint(
                condition=Q(yes=False, up_to=None) | Q(yes=True, up_to__isnull=False),
                name="a_yes_has_a_limit",
            )
        ]

    def __str__(self):
        return f"{self.estimate_id}: {self.yes}"


class PartUse(models.Model):
    """A part taken from the shelf for a job: one stock move, one price."""

    job = models.ForeignKey(
        WorkOrder, models.PROTECT, verbose_name=_("job"), related_name="part_uses"
    )
    key = models.UUIDField(_("once-only key"), unique=True)
    move = models.OneToOneField(
        StockMove, models.PROTECT, verbose_name=_("stock move"), related_name="part_use"
    )
    line = models.ForeignKey(
        EstimateLine,
        models.PROTECT,
        verbose_name=_("line of the estimate"),
        related_name="uses",
        null=True,
        blank=True,
    )
    unit_price = MoneyField(_("price for one"))
    put_back = models.BooleanField(_("put back"), default=False)

    class Meta:
        ordering = ["id"]
        verbose_name = _("part used")
        verbose_name_plural = _("parts used")

    def __str__(self):
        return f"{self.job_id}: {self.move_id}"

    @property
    def quantity(self):
        return -self.move.quantity

    @property
    def net(self):
        return line_net(self.quantity, self.unit_price)


class TimeEntry(models.Model):
    job = models.ForeignKey(
        WorkOrder, models.PROTECT, verbose_name=_("job"), related_name="time_entries"
    )
    key = models.UUIDField(_("once-only key"), unique=True)
    technician = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, verbose_name=_("technician"), related_name="+"
    )
    worked_on = models.DateField(_("worked on"))
    minutes = models.PositiveSmallIntegerField(_("minutes"))
    note = models.CharField(_("what was done"), max_length=400, blank=True)
    cost = MoneyField(_("cost"))
    recorded_at = models.DateTimeField(_("recorded at"))

    class Meta:
        ordering = ["worked_on", "id"]
        verbose_name = _("time")
        verbose_name_plural = _("times")
        constraints = [models.CheckConstraint(condition=Q(minutes__gt=0), name="time_has_minutes")]

    def __str__(self):
        return f"{self.job_id}: {self.minutes}"


class FlatRate(models.Model):
    """Minutes that a kind of work on a component usually takes; the shop edits them."""

    class Act(models.TextChoices):
        REPLACE = "replace", _("replace")
        SERVICE = "service", _("clean, adjust or lubricate")
        DIAGNOSE = "diagnose", _("find the cause")

    act = models.CharField(_("work"), max_length=10, choices=Act)
    component = models.ForeignKey(
        Component, models.CASCADE, verbose_name=_("component"), related_name="flat_rates"
    )
    minutes = models.PositiveSmallIntegerField(_("minutes"))

    class Meta:
        ordering = ["component", "act"]
        verbose_name = _("flat-rate time")
        verbose_name_plural = _("flat-rate times")
        constraints = [
            models.UniqueConstraint(fields=["act", "component"], name="one_flat_rate_an_act")
        ]

    def __str__(self):
        return f"{self.act} {self.component_id}: {self.minutes}"


class Notice(models.Model):
    """A written notice that goes with a machine leaving declined or unsafe."""

    job = models.OneToOneField(
        WorkOrder, models.PROTECT, verbose_name=_("job"), related_name="notice"
    )
    text = models.TextField(_("text"))
    written_at = models.DateTimeField(_("written at"))
    written_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, verbose_name=_("written by"), related_name="+"
    )

    class Meta:
        verbose_name = _("notice")
        verbose_name_plural = _("notices")

    def __str__(self):
        return f"{self.job_id}"


class HandBack(models.Model):
    """A customer's machine leaving: who took it, what went along, on which invoice."""

    job = models.OneToOneField(
        WorkOrder, models.PROTECT, verbose_name=_("job"), related_name="hand_back"
    )
    taken_by = models.CharField(_("taken by"), max_length=120)
    invoice = models.ForeignKey(
        Invoice, models.PROTECT, verbose_name=_("invoice"), related_name="+", null=True, blank=True
    )
    handed_at = models.DateTimeField(_("handed back at"))
    handed_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, verbose_name=_("handed back by"), related_name="+"
    )

    class Meta:
        verbose_name = _("hand-back")
        verbose_name_plural = _("hand-backs")

    def __str__(self):
        return f"{self.job_id}: {self.taken_by}"


class JobFile(models.Model):
    """A picture kept with a job whose machine was not seen yet, or of its papers."""

    job = models.ForeignKey(WorkOrder, models.PROTECT, verbose_name=_("job"), related_name="files")
    file = models.ForeignKey(StoredFile, models.PROTECT, verbose_name=_("file"), related_name="+")

    class Meta:
        verbose_name = _("file of a job")
        verbose_name_plural = _("files of jobs")

    def __str__(self):
        return f"{self.job_id}: {self.file_id}"
