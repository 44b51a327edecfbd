"""Numbers that became other numbers."""

from datetime import date

from django.db import connection, transaction
from django.utils.translation import gettext as _

from parts.fits.domain.supersession import CycleError, require_no_ring
from parts.fits.models import Part, Supersession
from parts.fits.services.parts import find_or_add_part
from parts.fits.services.refusing import PartError, require_come, require_evidence
from parts.fits.services.withdrawing import withdraw
from units.catalogue.models import Maker


@transaction.atomic
def supersede_part(*, part: Part, by_part: Part, on: date, evidence: str, by, at) -> Supersession:
    """Write down that a number became another one, since a day.

    PartError when the chain would bite its tail, also when its links are added in one moment.
    """
    evidence = require_evidence(evidence)
    require_come(on, at)
    if part.pk == by_part.pk:
        raise PartError(_("A part is not replaced by itself."), "number")
    _hold_all_chains()
    links = Supersession.objects.standing()
    known = links.filter(part=part, replaced_by=by_part).first()
    if known:
        raise PartError(
            _("That %(part)s became %(later)s is written down already: %(evidence)s.")
            % {"part": part.number, "later": by_part.number, "evidence": known.evidence},
            "number",
        )
    _require_no_ring(part, by_part)
    return Supersession.objects.create(
        part=part, replaced_by=by_part, on=on, evidence=evidence, recorded_at=at, recorded_by=by
    )


@transaction.atomic
def supersede_by_number(
    *, part: Part, maker: Maker | None, number: str, on: date, evidence: str, by, at
) -> Supersession:
    """The same by the later number alone; a number nobody had met is a part of the same name."""
    later = find_or_add_part(maker=maker, number=number, name=part.name, component=part.component)
    return supersede_part(part=part, by_part=later, on=on, evidence=evidence, by=by, at=at)


def withdraw_supersession(*, supersession: Supersession, reason: str, by, at) -> Supersession:
    """It was wrong that the one became the other: the link counts no longer."""
    return withdraw(supersession, reason=reason, by=by, at=at)


def _hold_all_chains() -> None:
    """Whoever adds a link waits for whoever is adding one: any two links may close a ring.

    On SQLite the write transaction stands alone anyway.
    """
    if connection.vendor == "postgresql":
        with connection.cursor() as cursor:
            cursor.execute("LOCK TABLE fits_supersession IN SHARE ROW EXCLUSIVE MODE")


def _require_no_ring(part: Part, by_part: Part) -> None:
    onward = Supersession.objects.standing().from_parts([by_part.pk])
    try:
        require_no_ring(onward.values_list("part", "replaced_by"), part.pk, by_part.pk)
    except CycleError as error:
        numbers = Part.objects.in_bulk(error.ring)
        ring = " → ".join(numbers[pk].number for pk in error.ring)
        raise PartError(
            _("This chain would bite its tail: %(ring)s. Withdraw the link that is wrong first.")
            % {"ring": ring},
            "number",
        ) from error
