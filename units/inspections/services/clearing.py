from collections.abc import Collection
from datetime import datetime

from django.db import transaction

from units.catalogue.models import Unit
from units.inspections.models import Clearance, Finding


@transaction.atomic
def clear_findings(
    *, unit: Unit, components: Collection[str], document: str, by, at: datetime
) -> int:
    """Say that closed work has answered every standing finding on these components (slugs).

    An error code is answered by work on anything that it makes suspect.
    Returns how many it cleared; a second call clears none.
    """
    Unit.objects.select_for_update().get(pk=unit.pk)
    wanted = {getattr(component, "pk", component) for component in components}
    standing = Finding.objects.standing([unit]).get(unit.pk, [])
    cleared = [
        Clearance(finding=finding, document=document, cleared_at=at, cleared_by=by)
        for finding in standing
        if wanted & {finding.component_id, *(one.pk for one in finding.suspects)}
    ]
    Clearance.objects.bulk_create(cleared)
    return len(cleared)
