"""What the pages of an estimate and of the hand-back show."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from parts.fits.models import Fit
from parts.fits.selectors import fitting_parts
from parts.stock.selectors import on_hand
from shop.people.models import Customer
from shop.till.domain.pricing import line_net
from shop.till.domain.tax import Rate, TaxableLine, TaxAmount, tax_of
from shop.till.selectors import tax_rates
from shop.work.models import Alternative, Estimate, EstimateLine, WorkOrder
from units.catalogue.models import KindComponent


@dataclass(frozen=True)
class Sums:
    """What lines come to; ``taxes`` by jurisdiction as they would be charged that day."""

    net: Decimal
    taxes: Sequence[TaxAmount] = ()

    @property
    def total(self) -> Decimal:
        return self.net + sum((tax.tax for tax in self.taxes), Decimal(0))


def sums_of(lines: Sequence, payer: Customer | None, on: date) -> Sums:
    """The sums of lines with class, quantity and price; our own work is not taxed. One query."""
    return _sums(lines, _rates(payer, on))


def _rates(payer: Customer | None, on: date) -> list[Rate]:
    return [] if payer is None or payer.tax_exempt_reason else tax_rates(on)


def _sums(lines: Sequence, rates: list[Rate]) -> Sums:
    taxable = [
        TaxableLine(line.line_class, line_net(line.quantity, line.unit_price)) for line in lines
    ]
    net = sum((line.net for line in taxable), Decimal(0))
    return Sums(net, tax_of(taxable, rates) if rates else ())


@dataclass(frozen=True)
class Choice:
    """One way to choose, with what it comes to."""

    alternative: Alternative
    sums: Sums


@dataclass(frozen=True)
class EstimatePage:
    estimate: Estimate
    lines: list[EstimateLine]
    on_hand: dict[int, Decimal]
    sums: Sums
    newest: int
    choices: list[Choice]

    @property
    def job(self) -> WorkOrder:
        return self.estimate.job

    @property
    def is_draft(self) -> bool:
        return self.estimate.offered_at is None

    @property
    def approval(self):
        return getattr(self.estimate, "approval", None)

    @property
    def waits(self) -> bool:
        """For the payer's answer."""
        return (
            not self.is_draft
            and self.approval is None
            and self.estimate.version == self.newest
            and self.job.state == WorkOrder.State.ESTIMATED
        )

    @property
    def unpriced(self) -> list[EstimateLine]:
        return [line for line in self.lines if not line.unit_price]


def estimate_page(number: str, version: int, on: date) -> EstimatePage:
    """One version with its lines and sums, in at most seven queries. Raises DoesNotExist."""
    estimates = Estimate.objects.select_related(
        "approval__recorded_by",
        "approval__alternative",
        "made_by",
        "offered_by",
        "job__unit__model__maker",
        "job__warranty_of",
        "job__unit__model__kind",
        "job__owner",
        "job__stay",
        "job__payer",
    )
    estimate = estimates.get(job__number=number, version=version)
    lines = list(estimate.lines.select_related("part__component", "component"))
    alternatives = list(estimate.alternatives.all())
    chosen = getattr(getattr(estimate, "approval", None), "alternative", None)
    rates = _rates(estimate.job.payer_or_owner, on)
    parts = [line.part for line in lines if line.part]
    offered = Estimate.objects.filter(job=estimate.job, offered_at__isnull=False)
    newest = offered.order_by("-version").values_list("version", flat=True).first()
    return EstimatePage(
        estimate=estimate,
        lines=lines,
        on_hand=on_hand(parts) if parts else {},
        sums=_sums([line for line in lines if line.stands_in(chosen)], rates),
        newest=newest or 0,
        choices=[
            Choice(one, _sums([line for line in lines if line.stands_in(one)], rates))
            for one in alternatives
        ],
    )


def parts_to_offer(job: WorkOrder) -> list[Fit]:
    """Parts known to fit the machine of a job, for a list to choose from. Three queries."""
    if job.unit is None:
        return []
    kind = KindComponent.objects.filter(kind=job.unit.model.kind_id)
    components = kind.values_list("component", flat=True)
    fits = fitting_parts(job.unit.model, components)
    return [fit for of_component in fits.values() for fit in of_component]
