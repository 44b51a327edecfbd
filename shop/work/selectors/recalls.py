from django.utils.translation import gettext as _

from units.catalogue.models import Unit
from units.recalls.models import RecallCheck
from units.recalls.selectors import matches_of, newest_checks
from units.show.words import day


def open_recalls(unit: Unit | None) -> list[str]:
    """What names each recall that is open on a machine, or may be. Five queries at most."""
    if unit is None:
        return []
    unit = Unit.objects.with_identity().get(pk=unit.pk)
    matches = matches_of([unit]).get(unit.pk, [])
    if found := [match.recall.number for match in matches if match.holds]:
        return found
    check = newest_checks([unit]).get(unit.pk)
    if check and not matches and check.outcome == RecallCheck.Outcome.FITS:
        return [_("found by the check of %(day)s") % {"day": day(check.checked_on)}]
    return []
