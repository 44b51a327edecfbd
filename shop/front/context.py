from django.utils.functional import SimpleLazyObject

from shop.front.access import names_open_to
from shop.front.navigation import entries_for, room_of
from shop.people.models import ShopProfile
from shop.work.selectors.clocks import running_clock


def shell(request):
    """What the page shell shows on every page; ``may`` holds the URL names open to these seats."""
    seats = getattr(request, "seats", [])
    match = request.resolver_match
    navigation = SimpleLazyObject(lambda: entries_for(seats))
    return {
        "seats": seats,
        "may": SimpleLazyObject(lambda: names_open_to(seats)),
        "navigation": navigation,
        "here": match.url_name if match else "",
        "room": SimpleLazyObject(lambda: room_of(request.path, navigation)),
        "clock": SimpleLazyObject(lambda: running_clock(request.user)),
        "shop_profile": SimpleLazyObject(lambda: ShopProfile.objects.first()),
    }
