import uuid

from django import forms
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from units.binder.models import BenchNote, ErrorCode, ModelFile
from units.catalogue.models import Component, MachineModel
from units.files.forms import PaperField

LONGEST_NOTE = 4000


class FileForm(forms.Form):
    shows = forms.ChoiceField(
        label=gettext_lazy("It is"), choices=ModelFile.Shows.choices, widget=forms.RadioSelect
    )
    title = forms.CharField(
        label=gettext_lazy("What it is"),
        help_text=gettext_lazy("As “Service manual, 2019” or “Wiring of the lower board”."),
        max_length=ModelFile._meta.get_field("title").max_length,
    )
    upload = PaperField(
        label=gettext_lazy("PDF or picture"),
        help_text=gettext_lazy("A PDF is kept as it is; a picture is drawn anew."),
    )


class NoteForm(forms.Form):
    key = forms.UUIDField(widget=forms.HiddenInput, initial=uuid.uuid4)
    sort = forms.ChoiceField(
        label=gettext_lazy("It says"),
        choices=BenchNote.Sort.choices,
        initial=BenchNote.Sort.BENCH,
        widget=forms.RadioSelect,
    )
    text = forms.CharField(
        label=gettext_lazy("Note"), max_length=LONGEST_NOTE, widget=forms.Textarea({"rows": 6})
    )
    pinned = forms.BooleanField(label=gettext_lazy("Pin it on top"), required=False)


class ComponentsField(forms.ModelMultipleChoiceField):
    widget = forms.CheckboxSelectMultiple

    def label_from_instance(self, component):
        return _(component.name)


class CodeForm(forms.Form):
    code = forms.CharField(
        label=gettext_lazy("Code"),
        help_text=gettext_lazy("As the display shows it."),
        max_length=ErrorCode._meta.get_field("code").max_length,
        widget=forms.TextInput({"autocapitalize": "characters", "autocomplete": "off"}),
    )
    meaning = forms.CharField(
        label=gettext_lazy("What it means"),
        max_length=ErrorCode._meta.get_field("meaning").max_length,
    )
    source = forms.CharField(
        label=gettext_lazy("Who says so"),
        help_text=gettext_lazy("A manual and its page, a call to the maker, or the bench."),
        max_length=ErrorCode._meta.get_field("source").max_length,
    )
    components = ComponentsField(
        Component.objects.none(), label=gettext_lazy("Components suspected"), required=False
    )

    def __init__(self, *args, model: MachineModel, **kwargs):
        super().__init__(*args, **kwargs)
        of_kind = Component.objects.filter(kinds__kind=model.kind_id)
        self.fields["components"].queryset = of_kind.order_by("kinds__position")


class TakeOutForm(forms.Form):
    reason = forms.CharField(label=gettext_lazy("What is wrong with it"), max_length=200)
