from django import forms
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from shop.work.models import FlatRate
from shop.work.services.flat_rates import MOST
from units.catalogue.models import Kind


class FlatRateForm(forms.Form):
    """Minutes for every kind of machine, or for one of those that have the component."""

    minutes = forms.IntegerField(
        label=gettext_lazy("Minutes"),
        min_value=1,
        max_value=MOST,
        widget=forms.TextInput(attrs={"inputmode": "numeric", "class": "big"}),
    )
    kind = forms.ModelChoiceField(Kind.objects.none(), label=gettext_lazy("In"), required=False)

    def __init__(self, *args, rate: FlatRate, **kwargs):
        super().__init__(*args, initial={"minutes": rate.minutes}, **kwargs)
        if rate.kind_id:
            del self.fields["kind"]
            return
        kinds = Kind.objects.filter(components__component=rate.component_id).order_by("position")
        self.fields["kind"].queryset = kinds
        self.fields["kind"].empty_label = _("every kind of machine that has no time of its own")
        self.fields["kind"].label_from_instance = lambda kind: _(kind.name)
