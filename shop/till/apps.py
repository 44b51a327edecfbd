from django.apps import AppConfig
from django.utils.translation import gettext_lazy as _


class TillConfig(AppConfig):
    name = "shop.till"
    verbose_name = _("till")
