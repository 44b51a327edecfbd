from django.apps import AppConfig
from django.utils.translation import gettext_lazy as _


class SupportConfig(AppConfig):
    name = "parts.support"
    verbose_name = _("what can be had")
