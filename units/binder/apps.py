from django.apps import AppConfig
from django.utils.translation import gettext_lazy as _


class BinderConfig(AppConfig):
    name = "units.binder"
    verbose_name = _("binder")
