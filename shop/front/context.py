from django.utils.functional import SimpleLazyObject

from shop.front.navigation import entries_for
from shop.people.models import ShopProfile


def shell(request):
    """What the page shell shows on every page."""
    seats = getattr(request, "seats", [])
    match = request.resolver_match
    return {
        "seats": seats,
        "navigation": entries_for(seats) if seats else [],
        "here": match.url_name if match else "",
        "shop_profile": SimpleLazyObject(lambda: ShopProfile.objects.first()),
    }
