"""The ways to a component, and which of them is the best."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from parts.answers.domain.support import (
    BACK_ORDERED,
    ENDED,
    LIMITED,
    NO_ANSWER,
    NOT_ASKED,
    SUPERSEDED,
    SUPPORTED,
)

SHELF, DONOR, MAKER, SUPPLIER = "shelf", "donor", "maker", "supplier"
REBUILD, MADE, STANDARD = "rebuild", "made", "standard"

HELD, STANDARD_SIZE = "held", "standard-size"
YES = {HELD, STANDARD_SIZE, SUPPORTED, SUPERSEDED, LIMITED, BACK_ORDERED}
# The better word first; what is stale comes after every fresh yes.
WORTH = [HELD, SUPPORTED, SUPERSEDED, STANDARD_SIZE, LIMITED, BACK_ORDERED]
# How a part fits that the maker's word on this model does not cover.
SISTER, SAME_SIZE = "sister", "standard"
FAR = 10_000  # days to come when nobody named a number, for comparing only


@dataclass(frozen=True)
class Core:
    """What a workshop wants for the old one beside the price: it charges so much until the old one
    is back, for which it leaves so many days (``None``: nothing was agreed)."""

    charge: Decimal
    days: int | None = None


@dataclass(frozen=True)
class Offer:
    """One way to one component on one day, and the one fact on which it rests.

    ``status`` is an answer's, or ``held`` (it lies here) or ``standard-size`` (any dealer in such
    parts has it); ``cost`` for one piece; ``holds`` the chance that the word is still true.
    ``via`` tells how the part fits: itself, by a later number, from a sister model, by size.
    """

    route: str
    status: str
    party: str = ""
    part: int | None = None
    number: str = ""
    via: str = "fits"
    cost: Decimal | None = None
    lead_days: int | None = None
    answered_on: date | None = None
    age_days: int | None = None
    fresh: bool = True
    holds: float = 1.0
    answer_id: int | None = None
    breadth: int = 0
    until: date | None = None
    dealer_only: bool = False
    told: str = ""
    core: Core | None = None

    @property
    def yes(self) -> bool:
        """A word that it can be had, fresh or stale."""
        return self.status in YES

    @property
    def counts(self) -> bool:
        """A fresh yes: what is stale is never one."""
        return self.yes and self.fresh

    @property
    def far_donor(self) -> bool:
        """A donor of a sister model: it comes after those of the model itself."""
        return self.route == DONOR and self.via == SISTER

    @property
    def dated(self) -> bool:
        """Whether a back-order has a day."""
        return self.status != BACK_ORDERED or self.until is not None


def preference(offer: Offer) -> tuple:
    """For sorting, the best first: a fresh yes, then stale ones, then no, then silence; among
    equals what lies here, the surer word, the sooner, the cheaper, the newer."""
    if offer.counts:
        order = (WORTH.index(offer.status), not offer.dated, offer.far_donor)
        return (0, *order, *_speed(offer))
    if offer.yes:
        return (1, WORTH.index(offer.status), not offer.dated, False, *_speed(offer))
    order = [ENDED, NO_ANSWER, NOT_ASKED]
    return (2, order.index(offer.status), False, False, *_speed(offer))


def _speed(offer: Offer) -> tuple:
    days = FAR if offer.lead_days is None else offer.lead_days
    priced = offer.cost is not None
    newest = -(offer.answered_on or date.min).toordinal()
    return (not priced, days, offer.cost or Decimal(0), newest, offer.number, offer.party)


def ranked(offers: Iterable[Offer]) -> list[Offer]:
    return sorted(offers, key=preference)
