from django.apps import AppConfig
from django.utils.translation import gettext_lazy as _


class BuyingConfig(AppConfig):
    name = "parts.buying"
    verbose_name = _("buying")
