from django.apps import AppConfig
from django.utils.translation import gettext_lazy as _


class DaysConfig(AppConfig):
    name = "parts.days"
    verbose_name = _("days")
