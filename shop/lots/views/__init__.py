from shop.lots.views.offers import OfferList, OfferPage

__all__ = ["OfferList", "OfferPage"]
