from django.apps import AppConfig
from django.utils.translation import gettext_lazy as _


class ResaleConfig(AppConfig):
    name = "shop.resale"
    verbose_name = _("resale")
