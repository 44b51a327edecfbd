from django import forms
from django.utils.translation import gettext_lazy as _

from shop.work.domain.closing import WRITTEN, SafetyKey
from shop.work.domain.states import outcomes_of
from shop.work.forms.recalls import ToldForm
from shop.work.models import WorkOrder
from shop.work.services.bench import Bench
from shop.work.services.closing import KEY_PLACES
from shop.work.services.closing_facts import Ending
from shop.work.services.notices import notice_text

NOTICES = {
    WorkOrder.Outcome.DECLINED: _("Notice, if it was declined"),
    WorkOrder.Outcome.UNSAFE: _("Notice, if it is unsafe"),
}


class CloseForm(forms.Form):
    """Asks only what this job can need."""

    outcome = forms.ChoiceField(label=_("Outcome"), widget=forms.RadioSelect)

    def __init__(self, *args, bench: Bench, owner: bool, **kwargs):
        super().__init__(*args, **kwargs)
        job, self.lines = bench.job, bench.lines_to_take
        outcomes = outcomes_of(job.state, job.purpose)
        labels = dict(WorkOrder.Outcome.choices)
        self.fields["outcome"].choices = [(one, labels[one]) for one in outcomes]
        if job.unit and job.unit.model.kind.has_safety_key:
            self.fields["safety_key"] = _key_field(job)
        for line in self.lines:
            self.fields[f"why_{line.line}"] = forms.CharField(
                label=_("Why “%(line)s” was not taken") % {"line": line.description},
                max_length=120,
                required=False,
            )
        for outcome in outcomes:
            if outcome in WRITTEN:
                self.fields[f"notice_{outcome}"] = forms.CharField(
                    label=NOTICES[outcome],
                    initial=notice_text(bench, outcome),
                    widget=forms.Textarea(attrs={"rows": 6}),
                    required=False,
                )
        if owner:
            self.fields["waiver"] = forms.CharField(
                label=_("Close in spite of what is missing, because"),
                max_length=200,
                required=False,
                help_text=_(
                    "Only for time not written and faults left without work; never a hold"
                    " or the final test."
                ),
            )

    def ending(self) -> Ending:
        said = self.cleaned_data
        return Ending(
            outcome=said["outcome"],
            safety_key=said.get("safety_key", ""),
            not_used={line.line: said[f"why_{line.line}"] for line in self.lines},
            notice=said.get(f"notice_{said['outcome']}", ""),
            waiver=said.get("waiver", ""),
        )


def _key_field(job: WorkOrder) -> forms.ChoiceField:
    """Nobody but a customer can have kept the key."""
    own = job.purpose == WorkOrder.Purpose.OWN
    return forms.ChoiceField(
        label=_("The safety key"),
        choices=[
            (place.value, label)
            for place, label in KEY_PLACES.items()
            if not (own and place == SafetyKey.KEPT)
        ],
        widget=forms.RadioSelect,
        required=False,
    )


class CancelForm(ToldForm):
    reason = forms.CharField(label=_("Why the job is cancelled"), max_length=400)
    left = forms.BooleanField(
        label=_("The customer takes the machine along now"), required=False, initial=True
    )

    field_order = ("reason", "left")

    def __init__(self, *args, job: WorkOrder, **kwargs):
        super().__init__(*args, job=job, **kwargs)
        if job.purpose == WorkOrder.Purpose.OWN:
            del self.fields["left"]
