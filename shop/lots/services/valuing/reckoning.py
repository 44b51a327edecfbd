"""Reckoning a valuation that waits, and keeping what came out."""

from dataclasses import asdict
from datetime import datetime
from decimal import Decimal
from time import perf_counter

from django.utils.translation import gettext as _

from shop.lots.domain.bidding import Conditions, bid_of
from shop.lots.domain.haul import Site
from shop.lots.domain.prices import Terms
from shop.lots.domain.recording import figures_of, lot_as_plain, lot_of_plain, versions
from shop.lots.models import Valuation
from shop.lots.selectors.figures import shop_figures, values_of
from shop.lots.selectors.valued import lines_to_value
from shop.lots.services.valuing.composing import Composed, Frame, compose_lot
from shop.people.models import Customer
from units.inspections.domain.odds import CLUB, PRIVATE


def reckon_valuation(*, pk: int, at: datetime) -> Valuation | None:
    """Reckon one that waits and keep what comes out; None where it does not wait.

    No transaction is open meanwhile: it takes seconds.
    """
    valuation = Valuation.objects.select_related("lot__seller").filter(pk=pk).first()
    if valuation is None or valuation.state != Valuation.State.WAITING:
        return None
    begun = perf_counter()
    try:
        _reckon(valuation)
    except ValueError as error:
        return keep_failed(valuation=valuation, trouble=_failed(error), at=at)
    valuation.state, valuation.ended_at = Valuation.State.DONE, at
    valuation.seconds = Decimal(str(round(perf_counter() - begun, 2)))
    valuation.save()
    return valuation


def _reckon(valuation: Valuation) -> None:
    """Raises ValueError for what cannot be valued."""
    if valuation.inputs is None:
        composed = _composed(valuation)
        valuation.inputs = lot_as_plain(composed.lot)
        valuation.origins = {key: asdict(one) for key, one in composed.origins.items()}
        valuation.left_out = [line.name for line in composed.left_out]
        valuation.priors_only = composed.priors_only
    lot = lot_of_plain(valuation.inputs)
    valuation.figures = figures_of(bid_of(lot, _conditions(valuation)))
    valuation.versions = versions()


def _composed(valuation: Valuation) -> Composed:
    lot = valuation.lot
    private = lot.seller.sort == Customer.Sort.PERSON
    frame = Frame(
        site=Site(float(lot.kilometres or 0), lot.steps or 0),
        other_costs=float(valuation.other_costs),
        population=PRIVATE if private else CLUB,
        typed=values_of(shop_figures(valuation.wanted_at)) | valuation.typed,
    )
    return compose_lot(lines_to_value(lot), frame, valuation.valued_on)


def _conditions(valuation: Valuation) -> Conditions:
    return Conditions(
        asked=None if valuation.asked is None else float(valuation.asked),
        terms=Terms(float(valuation.margin), float(valuation.odds)),
        seed=valuation.seed,
        draws=valuation.draws,
    )


def _failed(error: Exception) -> str:
    return (_("It could not be reckoned: %(why)s.") % {"why": error})[:300]


def keep_failed(*, valuation: Valuation, trouble: str, at: datetime) -> Valuation:
    """Keep that a valuation could not be reckoned, and why."""
    valuation.state, valuation.trouble, valuation.ended_at = Valuation.State.FAILED, trouble, at
    valuation.save(update_fields=["state", "trouble", "ended_at"])
    return valuation
