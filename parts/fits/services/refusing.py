"""What the house refuses, and the checks that several services share."""

from datetime import date

from django.utils import timezone
from django.utils.translation import gettext as _

from units.show.words import day as written


class RefusedError(ValueError):
    """A sentence to show and, where one field is to blame, its name."""

    def __init__(self, sentence: str, field: str | None = None):
        super().__init__(sentence)
        self.field = field


class PartError(RefusedError):
    """A part, a fit, or a link of parts or models that cannot be written down as it stands."""


def require_evidence(evidence: str) -> str:
    """The evidence in single blanks; PartError when it is empty."""
    evidence = " ".join(evidence.split())
    if not evidence:
        raise PartError(_("Say how we know, for instance “maker’s notice”."), "evidence")
    return evidence


def require_come(on: date, at) -> None:
    if on > timezone.localdate(at):
        raise PartError(
            _("%(day)s has not come yet. Use the day since which it holds.") % {"day": written(on)},
            "on",
        )
