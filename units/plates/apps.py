from django.apps import AppConfig
from django.utils.translation import gettext_lazy as _


class PlatesConfig(AppConfig):
    name = "units.plates"
    verbose_name = _("plates")
