from django import forms
from django.utils.translation import gettext_lazy as _

from parts.fits.models import Part
from shop.till.models import LineClass
from shop.work.forms.recalls import ToldForm
from shop.work.models import Alternative, Approval, EstimateLine, WorkOrder
from shop.work.services.estimate_lines import Wanted
from units.catalogue.models import Component

LINE_CLASSES = [choice for choice in LineClass.choices if choice[0] != LineClass.MACHINE]


class PartField(forms.CharField):
    """A part by the number on its label; cleaned to the part."""

    def __init__(self, **kwargs):
        super().__init__(
            **{"label": _("Part number"), "max_length": 60, "required": False} | kwargs
        )
        self.widget.attrs |= {"autocomplete": "off", "spellcheck": "false", "list": "parts"}

    def clean(self, value):
        number = super().clean(value)
        if not number:
            return None
        found = list(Part.objects.numbered(number).select_related("maker", "component")[:2])
        if not found:
            raise forms.ValidationError(
                _("No part has the number %(number)s. Add it under Parts first."),
                params={"number": number},
            )
        if len(found) > 1:
            raise forms.ValidationError(
                _("Several makers have a part %(number)s. Take it from a line of the estimate."),
                params={"number": number},
            )
        return found[0]


class LineForm(forms.Form):
    line_class = forms.ChoiceField(label=_("What it is"), choices=LINE_CLASSES)
    part = PartField(help_text=_("For a part that we know; its name and price follow from it."))
    description = forms.CharField(label=_("Description"), max_length=200, required=False)
    component = forms.ModelChoiceField(
        Component.objects.all(), label=_("Component"), required=False, empty_label=_("none")
    )
    quantity = forms.DecimalField(
        label=_("Quantity"), min_value=0, max_digits=9, decimal_places=3, initial=1
    )
    minutes = forms.IntegerField(
        label=_("Minutes"), min_value=1, max_value=6000, required=False, help_text=_("For labour.")
    )
    unit_price = forms.DecimalField(
        label=_("Price for one, before tax"),
        min_value=0,
        max_digits=11,
        decimal_places=2,
        required=False,
        help_text=_("Empty: a part by its cost and mark-up, labour by its minutes."),
    )
    timed = forms.BooleanField(
        label=_("Charged by the time written"),
        required=False,
        help_text=_("For labour: the price is what is expected, the bill follows the clock."),
    )
    only_in = forms.MultipleChoiceField(
        label=_("Only in"), widget=forms.CheckboxSelectMultiple, required=False
    )
    reason = forms.CharField(label=_("Why"), max_length=400, required=False)

    def __init__(
        self, *args, kind=None, line: EstimateLine | None = None, alternatives=(), **kwargs
    ):
        if line:
            kwargs.setdefault("initial", self.values_of(line))
        super().__init__(*args, **kwargs)
        self.fields["only_in"].choices = [(one.letter, str(one)) for one in alternatives]
        if not alternatives:
            del self.fields["only_in"]
        if kind:
            of_kind = Component.objects.filter(kinds__kind=kind).order_by("kinds__position")
            self.fields["component"].queryset = of_kind

    @staticmethod
    def values_of(line: EstimateLine) -> dict:
        names = ("line_class", "description", "quantity", "minutes", "unit_price", "reason")
        values = {name: getattr(line, name) for name in (*names, "timed")}
        values["only_in"] = list(line.only_in)
        return values | {
            "part": line.part.number if line.part else "",
            "component": line.component_id,
        }

    def clean_quantity(self):
        quantity = self.cleaned_data["quantity"]
        if not quantity:
            raise forms.ValidationError(_("A line needs a quantity. Drop it if it is not wanted."))
        return quantity

    def wanted(self) -> Wanted:
        said = self.cleaned_data
        return Wanted(**said | {"only_in": "".join(sorted(said.get("only_in", [])))})


class AlternativeForm(forms.Form):
    name = forms.CharField(
        label=_("Name"),
        max_length=80,
        help_text=_("As the customer would say it: “repair”, “repair and keypad”."),
    )
    sort = forms.ChoiceField(
        label=_("What we do"),
        choices=Alternative.Sort.choices,
        initial=Alternative.Sort.WORK,
        widget=forms.RadioSelect,
    )
    we_pay = forms.DecimalField(
        label=_("What we pay for the machine"),
        min_value=0,
        max_digits=9,
        decimal_places=2,
        required=False,
        help_text=_("Only where we take it for its parts."),
    )


class AnswerForm(ToldForm):
    yes = forms.TypedChoiceField(
        label=_("The answer"),
        choices=[("yes", _("yes")), ("no", _("no"))],
        coerce=lambda value: value == "yes",
        widget=forms.RadioSelect,
    )
    given_by = forms.CharField(label=_("Who said it"), max_length=120)
    channel = forms.ChoiceField(
        label=_("How"), choices=Approval.Channel.choices, widget=forms.RadioSelect
    )
    up_to = forms.DecimalField(
        label=_("Up to, before tax"),
        min_value=0,
        max_digits=11,
        decimal_places=2,
        required=False,
        help_text=_("Empty: as far as the estimate goes."),
    )
    alternative = forms.ModelChoiceField(
        Alternative.objects.none(),
        label=_("What was chosen"),
        widget=forms.RadioSelect,
        required=False,
        empty_label=None,
    )
    field_order = ("yes", "alternative")

    def __init__(self, *args, job: WorkOrder, net, alternatives=(), **kwargs):
        for_sale = any(one.sort == Alternative.Sort.DONOR for one in alternatives)
        super().__init__(*args, job=job, leaves=for_sale, **kwargs)
        chosen = Alternative.objects.filter(pk__in=[one.pk for one in alternatives])
        self.fields["alternative"].queryset = chosen
        if not alternatives:
            del self.fields["alternative"]
        if job.purpose == WorkOrder.Purpose.OWN:
            for name in ("given_by", "channel", "up_to"):
                del self.fields[name]
            return
        within = job.spend_limit is not None and net <= job.spend_limit
        unwanted = {Approval.Channel.OWN, Approval.Channel.WARRANTY} | (
            set() if within else {Approval.Channel.LIMIT}
        )
        self.fields["channel"].choices = [
            choice for choice in Approval.Channel.choices if choice[0] not in unwanted
        ]
        self.fields["given_by"].initial = str(job.payer_or_owner)

    def answer(self, by_name: str) -> dict:
        """The answer's values for the service; for our own stock the owner speaks."""
        own = {"given_by": by_name, "channel": Approval.Channel.OWN}
        return own | self.cleaned_data
