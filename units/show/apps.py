from django.apps import AppConfig
from django.utils.translation import gettext_lazy as _


class ShowConfig(AppConfig):
    name = "units.show"
    verbose_name = _("show")
