"""One box that finds a job, a machine, a model, a part, a customer or any document."""

from dataclasses import dataclass, replace
from itertools import chain

from django.db.models import Q
from django.urls import reverse

from parts.fits.models import Part
from shop.front.access import may_open
from shop.front.selectors.documents import Document, documents
from shop.people.models import Customer
from shop.till.models import Invoice
from shop.work.models import WorkOrder
from units.catalogue.domain.keys import match_key
from units.catalogue.models import MachineModel, Unit

SHOWN = 20
LEAST_SIGNS = 2
LEAST_DIGITS = 7


@dataclass(frozen=True)
class Found:
    """What the words found. ``exact`` holds the addresses of what they name without a doubt."""

    jobs: list[WorkOrder]
    machines: list[Unit]
    models: list[MachineModel]
    parts: list[Part]
    customers: list[Customer]
    invoices: list[Invoice]
    documents: list[Document]
    exact: list[str]

    @property
    def nothing(self) -> bool:
        people = (self.jobs, self.machines, self.customers)
        return not any((*people, self.models, self.parts, self.invoices, self.documents))


NOTHING = Found([], [], [], [], [], [], [], [])


def find(text: str, seats) -> Found:
    """At most eight queries. Too few letters find nothing rather than everything."""
    key = match_key(text)
    if len(key) < LEAST_SIGNS:
        return NOTHING
    customers = _customers(text, seats)
    machines = list(
        Unit.objects.with_identity()
        .filter(Q(serial_key__contains=key) | Q(model__key=key))
        .select_related("donor")[:SHOWN]
    )
    models = list(
        MachineModel.objects.current()
        .filter(key__contains=key)
        .select_related("maker", "kind")[:SHOWN]
    )
    jobs = _jobs(text, key, customers, machines)
    invoices = list(Invoice.objects.filter(number=key)) if may_open(seats, "invoice") else []
    parts = list(Part.objects.matching(text).select_related("maker")[:SHOWN])
    papers = documents(text, key, seats)
    found = Found(jobs, machines, models, parts, customers, invoices, papers, [])
    return replace(found, exact=_exact(key, text, found))


def _customers(text, seats) -> list[Customer]:
    return list(Customer.objects.matching(text)[:SHOWN]) if may_open(seats, "customer") else []


def _jobs(text, key, customers, machines) -> list[WorkOrder]:
    """By number, by whose machine it is, or by the machine."""
    words = Q(number__icontains=key) | Q(unit__in=machines) | Q(owner__name__icontains=text)
    words |= Q(owner__in=customers)
    return list(WorkOrder.objects.with_machine().filter(words)[:SHOWN])


def _exact(key: str, text: str, found: Found) -> list[str]:
    digits = "".join(filter(str.isdigit, text))
    telephone = digits if len(digits) >= LEAST_DIGITS and digits == key else None
    return list(
        chain(
            (reverse("job", args=[job.number]) for job in found.jobs if job.number == key),
            (
                reverse("machine", args=[unit.pk])
                for unit in found.machines
                if unit.serial_key == key
            ),
            (reverse("model", args=[model.pk]) for model in found.models if model.key == key),
            (part.get_absolute_url() for part in found.parts if part.key == key),
            (
                reverse("customer", args=[customer.pk])
                for customer in found.customers
                if match_key(customer.name) == key
                or (telephone and customer.phone_digits.endswith(telephone))
            ),
            (reverse("invoice", args=[invoice.number]) for invoice in found.invoices),
            (paper.href for paper in found.documents),
        )
    )
