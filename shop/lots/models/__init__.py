from shop.lots.models.offers import Offer, OfferLine

__all__ = ["Offer", "OfferLine"]
