from django.contrib.auth.forms import AuthenticationForm
from django.utils.translation import gettext_lazy as _


class SignInForm(AuthenticationForm):
    error_messages = {
        "invalid_login": _(
            "This name and password do not belong together. Mind capital letters; after six "
            "wrong tries the door stays closed for a quarter of an hour."
        ),
        "inactive": _("This person no longer works here. Ask the owner."),
    }

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        self.fields["username"].label = _("Name")
        if self.initial.get("username"):
            self.fields["username"].widget.attrs.pop("autofocus", None)
            self.fields["password"].widget.attrs["autofocus"] = True
