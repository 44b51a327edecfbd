"""Write down a supplier's whole list."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from django.db import transaction
from django.utils import timezone

from parts.answers.models import Answer
from parts.answers.services.sense import require_sense
from parts.fits.models import Part

BATCH = 1000


@dataclass(frozen=True)
class Listing:
    """One line of a supplier's list: what a part costs there and whether it can be had."""

    part: Part
    party: str
    status: str = Answer.Status.SUPPORTED
    cost: Decimal | None = None
    lead_days: int | None = None


@transaction.atomic
def record_listings(
    *, rows: Sequence[Listing], given_on: date, given_by: str, by, at, channel="listing"
) -> int:
    """Write down a supplier's list at once; returns how many answers are new.

    A row that the same supplier's list of that day said already is left out.
    """
    for row in rows:
        said = {"part": row.part, "route": "supplier", "party": row.party, "status": row.status}
        said |= {"given_on": given_on, "given_by": given_by, "channel": channel, "cost": row.cost}
        require_sense(said, timezone.localdate(at))
    told = {(row.part.pk, row.party, row.status, row.cost, row.lead_days): row for row in rows}
    known = Answer.objects.standing().filter(
        given_on=given_on, channel=channel, party__in={row.party for row in rows}
    )
    fields = ("part_id", "party", "status", "cost", "lead_days")
    new = told.keys() - set(known.values_list(*fields))
    answers = [
        Answer(
            part=row.part,
            route=Answer.Route.SUPPLIER,
            party=row.party,
            status=row.status,
            cost=row.cost,
            lead_days=row.lead_days,
            given_on=given_on,
            given_by=given_by,
            channel=channel,
            recorded_at=at,
            recorded_by=by,
        )
        for key, row in told.items()
        if key in new
    ]
    Answer.objects.bulk_create(answers, batch_size=BATCH)
    return len(answers)
