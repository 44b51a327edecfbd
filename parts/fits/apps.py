from django.apps import AppConfig
from django.utils.translation import gettext_lazy as _


class FitsConfig(AppConfig):
    name = "parts.fits"
    verbose_name = _("fits")
