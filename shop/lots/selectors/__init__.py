from shop.lots.selectors.offers import offer_page, offer_rows

__all__ = ["offer_page", "offer_rows"]
