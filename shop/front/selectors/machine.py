"""What is known of one machine, gathered from every house."""

from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from django.urls import reverse
from django.utils.translation import gettext_lazy as _

from parts.answers.domain.support import Support
from parts.answers.selectors import support_of
from shop.floor.models import MachineCost, Stay
from shop.front.access import may_open, may_see_file
from shop.work.models import WorkOrder
from units.catalogue.models import Unit
from units.inspections.models import Finding
from units.inspections.selectors import standing_findings


@dataclass(frozen=True)
class Deed:
    """Something that can be done to a machine: words, address, and whether by sending a form."""

    label: str
    href: str
    post: bool = False
    main: bool = False


@dataclass(frozen=True)
class MachinePage:
    unit: Unit
    stays: list[Stay]
    jobs: list[WorkOrder]
    findings: list[Finding]
    support: Support

    @property
    def stay(self) -> Stay | None:
        """Its present stay, or None when it is not here."""
        return next((stay for stay in self.stays if stay.left_on is None), None)

    @property
    def is_ours(self) -> bool:
        return self.stay is not None and self.stay.owner_id is None

    @property
    def open_job(self) -> WorkOrder | None:
        return next((job for job in self.jobs if job.is_open), None)

    @property
    def holds(self) -> list[Finding]:
        return [finding for finding in self.findings if finding.holds]


def machine_page(pk: int, on: date) -> MachinePage:
    """Identity, whereabouts, jobs, what is wrong and whether parts can be had.

    Raises Unit.DoesNotExist.
    """
    unit = Unit.objects.with_identity().get(pk=pk)
    return MachinePage(
        unit=unit,
        stays=list(unit.stays.select_related("owner", "came_from")),
        jobs=list(unit.jobs.select_related("owner", "payer")),
        findings=standing_findings([unit]).get(unit.pk, []),
        support=support_of([unit.model], on)[unit.model_id],
    )


def deeds(page: MachinePage, seats) -> list[Deed]:
    """What these seats may do to the machine now, the one that is next first."""
    unit, stay, job = page.unit, page.stay, page.open_job
    wanted = []
    if job:
        wanted.append(("job", [job.number], _("Go on with job %(job)s") % {"job": job.number}))
    elif page.is_ours:
        wanted.append(("readiness", [stay.pk], _("See what it needs before it is sold")))
        wanted.append(("own-job-add", [stay.pk], _("Open a job on it")))
    elif stay is None:
        wanted.append(("intake", [], _("Log it in")))
    if stay:
        wanted.append(("stand", [stay.pk], _("Where it stands")))
    wanted += [
        ("plate-add", [unit.pk], _("Add the plate")),
        ("photo-add", [unit.pk], _("Add pictures")),
        ("recall-check-add", [unit.pk], _("Check for a recall")),
        ("answer-add", [unit.model_id], _("Ask the maker about parts")),
    ]
    found = []
    for name, args, label in wanted:
        opens = may_open(seats, name)
        if opens or may_open(seats, name, "POST"):
            query = _as_plate(unit) if name == "intake" else None
            href = reverse(name, args=args, query=query)
            found.append(Deed(label, href, post=not opens, main=not found))
    return found


def _as_plate(unit: Unit) -> dict[str, str]:
    """The fields of a form about a machine, filled with what we know of this one."""
    return {"maker": unit.maker.name, "number": unit.model.number, "serial": unit.serial}


@dataclass(frozen=True)
class MachineRecord:
    """Everything written down about a machine, newest first. ``costs`` is None for seats that
    may not see them or for a machine that is not ours; ``hides`` says that it has pictures which
    these seats may not see."""

    unit: Unit
    plates: list
    photos: list
    hides: bool
    inspections: list
    recalls: list
    costs: list[MachineCost] | None

    @property
    def cost_total(self) -> Decimal:
        return sum((cost.amount for cost in self.costs or []), Decimal(0))


COST_SEATS = frozenset({"owner", "accountant"})


def machine_record(pk: int, seats) -> MachineRecord:
    """Pictures, inspections, recall checks and, for the office, costs. Six queries at most.

    Raises Unit.DoesNotExist.
    """
    unit = Unit.objects.with_identity().get(pk=pk)
    costs = None
    if COST_SEATS & set(seats):
        costs = list(MachineCost.objects.filter(stay__unit=unit).select_related("stay"))
    plates = list(unit.plates.select_related("photo", "confirmed_by"))
    photos = list(unit.photos.select_related("file", "taken_by"))
    files = [one.photo for one in plates] + [one.file for one in photos]
    return MachineRecord(
        unit=unit,
        plates=[one for one in plates if may_see_file(seats, one.photo.audience)],
        photos=[one for one in photos if may_see_file(seats, one.file.audience)],
        hides=not all(may_see_file(seats, file.audience) for file in files),
        inspections=list(unit.inspections.select_related("protocol", "opened_by")),
        recalls=list(unit.recall_checks.select_related("recorded_by")),
        costs=costs,
    )
