from django.apps import AppConfig
from django.utils.translation import gettext_lazy as _


class FloorConfig(AppConfig):
    name = "shop.floor"
    verbose_name = _("floor")
