"""How a lot stands to the day by which it has to be out."""

from datetime import date

from shop.lots.domain.removal import Plan, plan_of
from shop.lots.models import Lot, Valuation


def removal_of(lot: Lot, today: date) -> Plan | None:
    """By the haul of the newest valuation; none for a lot that is out. One query."""
    if lot.is_out:
        return None
    done = lot.valuations.filter(state=Valuation.State.DONE, again_of=None)
    haul = done.order_by("-wanted_at", "-pk").values_list("figures__haul", flat=True).first()
    return plan_of(haul, lot.remove_by, today)
