from shop.resale.selectors.exits import exits, retail
from shop.resale.selectors.papers import (
    Draft,
    draft_of,
    holding_days,
    holding_rules,
    papers_of,
    reservation_of,
    waivers_of,
)
from shop.resale.selectors.readiness import (
    ForSale,
    Unmet,
    WayOut,
    for_sale,
    one_for_sale,
    our_stays,
    readiness_of,
)

__all__ = [
    "Draft",
    "ForSale",
    "Unmet",
    "WayOut",
    "draft_of",
    "exits",
    "for_sale",
    "holding_days",
    "holding_rules",
    "one_for_sale",
    "our_stays",
    "papers_of",
    "readiness_of",
    "reservation_of",
    "retail",
    "waivers_of",
]
