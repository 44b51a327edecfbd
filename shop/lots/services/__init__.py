from shop.lots.services.offers import OfferedLine, OfferError, add_offer

__all__ = ["OfferError", "OfferedLine", "add_offer"]
