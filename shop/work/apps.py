from django.apps import AppConfig
from django.utils.translation import gettext_lazy as _


class WorkConfig(AppConfig):
    name = "shop.work"
    verbose_name = _("work")
