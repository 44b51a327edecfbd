from django.apps import AppConfig
from django.utils.translation import gettext_lazy as _


class RowsConfig(AppConfig):
    name = "units.rows"
    verbose_name = _("rows")
