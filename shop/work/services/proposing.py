"""The lines to propose for a job, from its machine's standing findings."""

from collections.abc import Iterable
from datetime import date

from django.db.models import Q
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from parts.buying.selectors import expected_costs
from parts.fits.selectors import fitting_parts
from shop.till.selectors import price_rules
from shop.work.domain.proposals import FittingPart, Proposal, Suspicion, propose
from shop.work.models import EstimateLine, FlatRate, WorkOrder
from shop.work.services.bench import Bench
from units.catalogue.models import Component

WORDINGS = {
    "replace": gettext_lazy("Replace: %(component)s"),
    "service": gettext_lazy("Clean, adjust or lubricate: %(component)s"),
    "diagnose": gettext_lazy("Find the cause: %(component)s"),
    "part-to-find": gettext_lazy("Part to be found: %(component)s"),
}


def proposed_lines(job: WorkOrder, on: date) -> list[EstimateLine]:
    """Unsaved lines, each with its reason; empty when no look found anything."""
    bench = Bench(job)
    verdicts = list(bench.verdicts)
    spoken_of = {verdict.component for verdict in verdicts}
    verdicts += [
        Suspicion(finding.component_id, _unexplained(finding))
        for finding in bench.findings
        if finding.component_id not in spoken_of
    ]
    if not verdicts:
        return []
    components = Component.objects.in_bulk([verdict.component for verdict in verdicts])
    minutes = flat_rates(components, job.unit.model.kind_id)
    fits = _fitting(job, list(components), on)
    proposals = propose(verdicts, fits, minutes, price_rules(on))
    return [_line(proposal, components[proposal.component]) for proposal in proposals]


def flat_rates(components: Iterable[str], kind: str) -> dict[tuple[str, str], int]:
    """``{(act, component): minutes}``, the kind's own before those of every kind; one query."""
    own = Q(kind=None) | Q(kind=kind)
    rates = FlatRate.objects.filter(own, component__in=list(components))
    general_first = sorted(rates, key=lambda rate: rate.kind_id is not None)
    return {(rate.act, rate.component_id): rate.minutes for rate in general_first}


def _unexplained(finding) -> str:
    return _("Found %(condition)s; what it means has to be found out.") % {
        "condition": _(finding.label)
    }


def _fitting(job: WorkOrder, components: list[str], on: date) -> dict[str, list[FittingPart]]:
    by_component = fitting_parts(job.unit.model, components)
    parts = [fit.part for fits in by_component.values() for fit in fits]
    costs = expected_costs(parts, on)
    return {
        component: [
            FittingPart(
                part=fit.part_id,
                text=str(fit.part),
                quantity=fit.quantity,
                unit_cost=costs[fit.part_id].unit_cost if fit.part_id in costs else None,
            )
            for fit in fits
        ]
        for component, fits in by_component.items()
    }


def _line(proposal: Proposal, component: Component) -> EstimateLine:
    fit = proposal.part
    name = {"component": _(component.name)}
    text = fit.text if fit else WORDINGS[proposal.wording] % name
    return EstimateLine(
        line_class=proposal.line_class,
        description=text[:200],
        component=component,
        part_id=fit.part if fit else None,
        quantity=proposal.quantity,
        minutes=proposal.minutes,
        unit_cost=fit.unit_cost if fit else None,
        unit_price=proposal.unit_price,
        reason=proposal.reason[:400],
    )
