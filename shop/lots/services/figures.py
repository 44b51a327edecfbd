"""Setting what every lot is reckoned with."""

from collections.abc import Mapping
from datetime import datetime
from decimal import Decimal

from django.contrib.auth.models import AbstractBaseUser
from django.db import transaction
from django.utils.translation import gettext as _

from shop.lots.domain.assumptions import TERMS, base_assumptions, stated, with_figures
from shop.lots.models import ShopFigure
from shop.lots.selectors.figures import shop_figures
from shop.lots.services.errors import LotError


@transaction.atomic
def set_shop_figures(
    *, figures: Mapping[str, Decimal | None], why: str, by: AbstractBaseUser, at: datetime
) -> list[ShopFigure]:
    """Set figures for every lot that is valued from now on, None for the stated one again; what is
    as it was is left alone. Raises LotError, and then nothing is set."""
    held = {key: row.value for key, row in shop_figures().items()}
    changed = {key: value for key, value in figures.items() if value != held.get(key)}
    unknown = [key for key in changed if key not in stated() and key not in TERMS]
    if unknown:
        raise LotError(_("“%(key)s” is no assumption that we know.") % {"key": unknown[0]})
    _check(held | changed)
    return ShopFigure.objects.bulk_create(
        ShopFigure(key=key, value=value, why=why.strip()[:200], set_at=at, set_by=by)
        for key, value in changed.items()
    )


def _check(values: Mapping[str, Decimal | None]) -> None:
    figures = {
        key: float(one) for key, one in values.items() if one is not None and key in stated()
    }
    try:
        with_figures(base_assumptions(), figures)
    except ValueError as error:
        raise LotError(not_together()) from error


def not_together() -> str:
    """Why weights of dependence are refused."""
    return _(
        "These figures do not go together: machines and components cannot be more alike than all"
        " of a whole. Lower the weight of the lot or of the machine."
    )
