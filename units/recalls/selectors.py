from collections.abc import Iterable

from django.db.models import OuterRef, Subquery

from units.catalogue.models import Unit
from units.recalls.models import RecallCheck


def newest_checks(units: Iterable[Unit]) -> dict[int, RecallCheck]:
    """The newest recall check of each machine, by the machine's id. One query."""
    newest = RecallCheck.objects.filter(unit=OuterRef("unit")).order_by("-checked_on", "-id")
    checks = RecallCheck.objects.filter(
        unit__in=[unit.pk for unit in units], pk=Subquery(newest.values("pk")[:1])
    )
    return {check.unit_id: check for check in checks.select_related("recorded_by")}
