from django.apps import AppConfig
from django.utils.translation import gettext_lazy as _


class InspectionsConfig(AppConfig):
    name = "units.inspections"
    verbose_name = _("inspections")
