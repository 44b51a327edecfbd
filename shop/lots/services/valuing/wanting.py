"""Asking for valuations: of a lot, or of one that was kept."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, datetime
from decimal import Decimal
from functools import partial
from uuid import UUID

from django.contrib.auth.models import AbstractBaseUser
from django.db import transaction
from django.utils.translation import gettext as _

from shop.lots.domain.assumptions import base_assumptions, stated, with_figures
from shop.lots.domain.prices import Terms
from shop.lots.domain.valuing import DRAWS
from shop.lots.models import Lot, Valuation
from shop.lots.selectors.figures import shop_figures, values_of
from shop.lots.services.figures import not_together
from shop.lots.services.valuing.tasks import reckon

LEAST_DRAWS, MOST_DRAWS = 1_000, 100_000


class ValuationError(ValueError):
    """A lot cannot be valued so; the text is a sentence to show."""


@dataclass(frozen=True)
class Wish:
    """How a lot is to be valued. ``typed`` as in ``composing.Frame``."""

    asked: Decimal | None
    terms: Terms
    seed: int = 1
    draws: int = DRAWS
    other_costs: Decimal = Decimal(0)
    typed: Mapping[str, float] = field(default_factory=dict)


@transaction.atomic
def want_valuation(
    *, lot: Lot, wish: Wish, key: UUID, by: AbstractBaseUser, at: datetime, on: date
) -> Valuation:
    """Have a lot valued; the same key gives the first valuation. Raises ValuationError."""
    lot = Lot.objects.select_for_update().get(pk=lot.pk)
    if first := Valuation.objects.filter(key=key).first():
        return first
    _check(lot, wish, at)
    valuation = Valuation.objects.create(
        lot=lot,
        key=key,
        asked=wish.asked,
        margin=Decimal(str(wish.terms.margin)),
        odds=Decimal(str(wish.terms.odds)),
        seed=wish.seed,
        draws=wish.draws,
        other_costs=wish.other_costs,
        typed=dict(wish.typed),
        valued_on=on,
        wanted_at=at,
        wanted_by=by,
    )
    transaction.on_commit(partial(reckon.enqueue, valuation.pk))
    return valuation


@transaction.atomic
def want_again(*, valuation: Valuation, key: UUID, by: AbstractBaseUser, at: datetime) -> Valuation:
    """Have a valuation reckoned again from what was kept of it; of one that was reckoned again
    itself, the first. Raises ValuationError."""
    if first := Valuation.objects.filter(key=key).first():
        return first
    if valuation.state != Valuation.State.DONE:
        raise ValuationError(_("Only a valuation that was reckoned can be reckoned again."))
    copied = ("lot", "asked", "margin", "odds", "seed", "draws", "other_costs", "typed", "inputs")
    copied += ("origins", "left_out", "priors_only", "valued_on")
    values = {name: getattr(valuation, name) for name in copied}
    again = Valuation.objects.create(
        **values, key=key, again_of=valuation.again_of or valuation, wanted_at=at, wanted_by=by
    )
    transaction.on_commit(partial(reckon.enqueue, again.pk))
    return again


def _check(lot: Lot, wish: Wish, at: datetime) -> None:
    if wish.asked is not None and wish.asked < 0:
        raise ValuationError(
            _("The price asked is below nothing. Leave it empty if there is none.")
        )
    if not LEAST_DRAWS <= wish.draws <= MOST_DRAWS:
        raise ValuationError(
            _("Take between %(least)d and %(most)d draws.")
            % {"least": LEAST_DRAWS, "most": MOST_DRAWS}
        )
    _check_figures(wish, at)
    if not lot.lines.exclude(state="dropped").exists():
        raise ValuationError(_("The list is empty. Confirm at least one line of it first."))


def _check_figures(wish: Wish, at: datetime) -> None:
    figures = {key: value for key, value in wish.typed.items() if ":" not in key}
    unknown = [key for key in figures if key not in stated()]
    if unknown:
        raise ValuationError(_("“%(key)s” is no assumption that we know.") % {"key": unknown[0]})
    try:
        with_figures(base_assumptions(), values_of(shop_figures(at)) | figures)
    except ValueError as error:
        raise ValuationError(not_together()) from error
