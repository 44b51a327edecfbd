from django.contrib.auth.views import redirect_to_login
from django.http import HttpResponseForbidden
from django.template.loader import render_to_string

from shop.front import access
from shop.people.seats import SEATS, seats_of


class SeatMiddleware:
    """Asks the access table before every view, and keeps the person's seats on the request."""

    def __init__(self, get_response):
        self.get_response = get_response

    def __call__(self, request):
        return self.get_response(request)

    def process_view(self, request, view, args, kwargs):
        request.seats = seats_of(request.user) if request.user.is_authenticated else []
        name = request.resolver_match.url_name or ""
        if access.may_open(request.seats, name, request.method):
            return None
        if not request.user.is_authenticated:
            return redirect_to_login(request.get_full_path() if request.method == "GET" else "/")
        allowed = [SEATS[seat] for seat in SEATS if seat in access.seats_for(name, request.method)]
        page = render_to_string("front/not_your_seat.html", {"allowed": allowed}, request)
        return HttpResponseForbidden(page)
