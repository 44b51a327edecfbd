from shop.resale.selectors.readiness import (
    ForSale,
    Unmet,
    for_sale,
    one_for_sale,
    our_stays,
    readiness_of,
)

__all__ = ["ForSale", "Unmet", "for_sale", "one_for_sale", "our_stays", "readiness_of"]
