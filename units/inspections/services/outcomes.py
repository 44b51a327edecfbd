"""Writing down what became of the components that somebody looked at."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, datetime

from django.db import transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from units.catalogue.models import Unit
from units.inspections.domain.outcomes import (
    NOT_KNOWN,
    PROOFS,
    TELLING,
    Seen,
    fates_of,
    population_of,
    state_of,
)
from units.inspections.domain.understanding import verdicts
from units.inspections.models import ComponentOutcome, Inspection, StepResult
from units.inspections.selectors import understanding_rules
from units.inspections.services.errors import InspectionError

HOURS = "hours"  # the key of a step that reads the machine's own counter


@dataclass(frozen=True)
class Look:
    """A look or a deed. ``document`` holds it together with others about the same machine;
    ``source`` names it alone (the document where empty). Without ``population`` or ``state`` those
    of the earlier looks of the document stand."""

    unit: Unit
    known: str
    document: str
    source: str = ""
    population: str = ""
    state: str = ""
    hours: int | None = None


@transaction.atomic
def record_outcomes(
    *, look: Look, fates: Mapping[str, str], on: date, by, at: datetime
) -> list[ComponentOutcome]:
    """Write what became of components: ``fates`` by the component's key. What stands already from
    the same source is left as it is. Returns the rows that are new.

    Raises InspectionError when no document is named.
    """
    if not look.document.strip():
        raise InspectionError(_("Name the document by which the component was looked at."))
    Unit.objects.select_for_update().get(pk=look.unit.pk)
    source = look.source or look.document
    mine = ComponentOutcome.objects.filter(unit=look.unit)
    had = set(mine.filter(source=source).values_list("component_id", flat=True))
    first = mine.filter(document=look.document).first()
    rows = [
        ComponentOutcome(
            unit=look.unit,
            component_id=component,
            fate=ComponentOutcome.Fate(fate),
            known=ComponentOutcome.Known(look.known),
            population=look.population or (first.population if first else population_of("")),
            state=look.state or (first.state if first else NOT_KNOWN),
            hours=look.hours if look.hours is not None else first and first.hours,
            document=look.document,
            source=source,
            looked_on=on,
            recorded_at=at,
            recorded_by=by,
        )
        for component, fate in fates.items()
        if component not in had
    ]
    return ComponentOutcome.objects.bulk_create(rows)


def record_inspected(*, inspection: Inspection, by, at: datetime) -> list[ComponentOutcome]:
    """The outcomes of a finished inspection; a proof of our own work has none."""
    if inspection.protocol.occasion in PROOFS:
        return []
    results = list(inspection.results.select_related("step"))
    seen = [one for result in results for one in _seen(result)]
    found = [(one.component, one.condition) for one in seen]
    population = population_of(inspection.protocol.occasion, inspection.population)
    meant = verdicts(found, understanding_rules(), inspection.protocol.kind_id, population)
    name = f"inspection {inspection.pk}"
    read = [result.value for result in results if result.step.key == HOURS and result.value]
    look = Look(
        unit=inspection.unit,
        known=ComponentOutcome.Known.FINDING,
        document=inspection.document or name,
        source=name,
        population=population,
        state=state_of(seen),
        hours=int(read[0]) if read else None,
    )
    fates = fates_of(seen, {verdict.component: verdict.act for verdict in meant})
    on = timezone.localdate(at)
    return record_outcomes(look=look, fates=fates, on=on, by=by, at=at)


def _seen(result: StepResult) -> list[Seen]:
    """What a result says of each component that its step judges.

    A step that passes has looked at every component that its conditions speak of: otherwise these
    would be written down only when they are bad.
    """
    step, sound = result.step, result.outcome == StepResult.Outcome.PASS
    judged = step.judged if sound else {step.component_of(result.condition)}
    judges = not step.only_tells and step.key not in TELLING
    return [
        Seen(component, result.condition, sound, result.is_possible, step.power, judges)
        for component in sorted(filter(None, judged))
    ]
