from django.contrib import messages
from django.contrib.auth.views import redirect_to_login
from django.http import HttpResponse, HttpResponseForbidden
from django.template.loader import render_to_string
from django.utils.functional import SimpleLazyObject
from django.utils.translation import gettext as _

from shop.front import access
from shop.people.seats import SEATS, seats_of


class SeatMiddleware:
    """Asks the access table before every view, and keeps the person's seats on the request."""

    def __init__(self, get_response):
        self.get_response = get_response

    def __call__(self, request):
        # Lazy, so that an error page knows the seats too though no view was ever found.
        request.seats = SimpleLazyObject(
            lambda: seats_of(request.user) if request.user.is_authenticated else []
        )
        return self.get_response(request)

    def process_view(self, request, view, args, kwargs):
        name = request.resolver_match.url_name or ""
        if access.may_open((), name, request.method):
            return None
        if not request.user.is_authenticated:
            return _to_sign_in(request, name)
        if access.may_open(request.seats, name, request.method):
            return None
        allowed = [SEATS[seat] for seat in SEATS if seat in access.seats_for(name, request.method)]
        page = render_to_string("front/not_your_seat.html", {"allowed": allowed}, request)
        return HttpResponseForbidden(page)


def _to_sign_in(request, name):
    """A page comes back after sign-in, and so does one whose form was sent, to be sent again."""
    if not request.accepts("text/html"):
        # A script asks, and keeps what it sends until it is told that the shop has it.
        return HttpResponse(status=401)
    if request.htmx:
        # Neither leave the page nor swap the door into it: what is typed round the part stays.
        return HttpResponse(render_to_string("front/signed_out.html", request=request))
    if request.method == "GET":
        return redirect_to_login(request.get_full_path())
    messages.warning(
        request,
        _("You were signed out meanwhile. Nothing was saved: sign in, then send it once more."),
    )
    has_page = bool(access.seats_for(name, "GET"))
    # The page's script fills in what was typed when it is opened again.
    return redirect_to_login(f"{request.get_full_path()}#again" if has_page else "/")
