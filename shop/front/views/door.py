from django.contrib.auth.views import LoginView
from django.core import signing

from shop.front.forms import SignInForm

COOKIE = "people"
KEPT = 6
KEPT_SECONDS = 90 * 24 * 60 * 60


def people_of_this_device(request) -> list[str]:
    """Names that signed in here, newest first, so that a shared tablet changes person quickly."""
    try:
        return signing.loads(request.COOKIES.get(COOKIE, ""), salt=COOKIE)[:KEPT]
    except signing.BadSignature:
        return []


class SignInView(LoginView):
    template_name = "front/sign_in.html"
    authentication_form = SignInForm

    def get_initial(self):
        return {"username": self.request.GET.get("person", "")}

    def get_context_data(self, **kwargs):
        known = people_of_this_device(self.request)
        person = self.request.GET.get("person", "")
        return super().get_context_data(**kwargs) | {"known": known, "person": person}

    def form_valid(self, form):
        response = super().form_valid(form)
        name = form.get_user().get_username()
        others = [known for known in people_of_this_device(self.request) if known != name]
        response.set_cookie(
            COOKIE,
            signing.dumps([name, *others][:KEPT], salt=COOKIE),
            max_age=KEPT_SECONDS,
            secure=self.request.is_secure(),
            httponly=True,
            samesite="Lax",
        )
        return response
