from django import forms
from django.utils.translation import gettext_lazy as _

from shop.work.models import RecallTold, WorkOrder
from shop.work.selectors.recalls import open_recalls


class ToldForm(forms.Form):
    """Asks, where recalls are open on a customer's machine, how he was told of them."""

    recalls_told = forms.ChoiceField(
        label=_("The customer was told of its open recalls"),
        choices=RecallTold.How.choices,
        widget=forms.RadioSelect,
        required=False,
    )

    def __init__(self, *args, job: WorkOrder, leaves: bool = True, **kwargs):
        super().__init__(*args, **kwargs)
        found = open_recalls(job.unit) if leaves and job.owner_id else []
        if found:
            self.fields["recalls_told"].help_text = "; ".join(found)
        else:
            del self.fields["recalls_told"]
