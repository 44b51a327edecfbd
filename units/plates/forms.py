from dataclasses import dataclass
from typing import Any

from django import forms
from django.utils.html import format_html
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from units.catalogue.domain.keys import match_key
from units.catalogue.forms import SerialField
from units.catalogue.models import Kind, MachineModel
from units.files.forms import PictureField, PicturesField, PicturesInput
from units.plates.domain.proposal import Candidate, FieldName, Proposal, ReadField
from units.plates.domain.showing import Likelihood, likelihood, settled, unsettled
from units.plates.models import PlateReading, PlateWalk

# What a form calls the fields that a reader names otherwise.
NAMES = {FieldName.MODEL: "number"}
FACTS = (FieldName.VOLTS, FieldName.HERTZ, FieldName.AMPS, FieldName.MADE)
MOST_IN_A_WALK = 60
OTHER = "_other"
SOMETHING_ELSE = "-"

LIKELY = {
    Likelihood.HIGH: gettext_lazy("very likely"),
    Likelihood.GOOD: gettext_lazy("likely"),
    Likelihood.SOME: gettext_lazy("possible"),
    Likelihood.LOW: gettext_lazy("less likely"),
}


def name_in_form(name: FieldName) -> str:
    return NAMES.get(name, str(name))


class KindForm(forms.Form):
    """What a machine is; its kind is asked only for a model that nobody has met."""

    maker = forms.CharField(label=gettext_lazy("Maker"), max_length=80)
    number = forms.CharField(label=gettext_lazy("Model number"), max_length=60)
    kind = forms.ModelChoiceField(
        Kind.objects.all(),
        label=gettext_lazy("Kind of machine"),
        required=False,
        empty_label=gettext_lazy("as the model says"),
        help_text=gettext_lazy("Only for a model that we have not met before."),
    )

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        self.fields["kind"].asked = True  # its help says when it may stay empty
        self.fields["number"].widget.attrs |= {
            "autocapitalize": "characters",
            "autocomplete": "off",
            "spellcheck": "false",
        }

    def clean(self):
        cleaned = super().clean()
        maker, number = cleaned.get("maker"), cleaned.get("number")
        if maker and number and not cleaned.get("kind") and not _is_met(maker, number):
            self.add_error(
                "kind", _("We have not met this model before. Say what kind of machine it is.")
            )
        return cleaned


def _is_met(maker: str, number: str) -> bool:
    models = MachineModel.objects.filter(maker__key=match_key(maker), key=match_key(number))
    return models.exists()


class ReadingField(forms.ModelChoiceField):
    """The photo that was sent beforehand: a hidden field that the page's script fills."""

    widget = forms.HiddenInput

    def __init__(self):
        super().__init__(
            PlateReading.objects.select_related("photo"),
            required=False,
            error_messages={
                "invalid_choice": gettext_lazy("This photo is not here. Choose it once more.")
            },
        )

    def to_python(self, value):
        try:
            return super().to_python(value)
        except forms.ValidationError as error:
            raise forms.ValidationError(self.error_messages["invalid_choice"]) from error


class PhotoSentForm(forms.Form):
    """A form about a machine; the photo of its plate (the field ``PHOTO``) may have been sent
    beforehand."""

    PHOTO = "photo"
    reading = ReadingField()

    @property
    def kept_reading(self) -> PlateReading | None:
        return self.cleaned_data.get("reading") if self.is_bound and self.errors else None

    def clean(self):
        cleaned = super().clean()
        # A photo that comes along with the form is newer than the one that was sent beforehand.
        if cleaned.get(self.PHOTO):
            cleaned["reading"] = None
            self.data = self.data.copy()
            self.data[self.add_prefix("reading")] = ""
        return cleaned


class PlateForm(PhotoSentForm):
    """What a person reads on the plate of a machine that we know, with the photo that proves it."""

    photo = PictureField(label=gettext_lazy("Photo of the serial plate"), required=False)
    maker = forms.CharField(label=gettext_lazy("Maker"), max_length=80)
    number = forms.CharField(label=gettext_lazy("Model number"), max_length=60)
    serial = SerialField(
        help_text=gettext_lazy("As it stands on the plate. Leave empty only if nobody can read it.")
    )

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        self.fields["photo"].asked = True

    def clean(self):
        cleaned = super().clean()
        came = cleaned.get("photo") or cleaned.get("reading")
        if not came and not {"photo", "reading"} & set(self.errors):
            self.add_error("photo", self.fields["photo"].error_messages["required"])
        return cleaned


class PhotosField(PicturesField):
    """Photos to be read. Each is judged on its own when it is stored, so that a bad one does not
    hold back the others."""

    def clean(self, data, initial=None):
        return self.several(data)


class PhotosToReadForm(forms.Form):
    # Without previews: sixty large photos at once would be too much for a telephone.
    photo = PhotosField(
        label=gettext_lazy("Photos of serial plates"), widget=PicturesInput({"data-preview": ""})
    )
    walk = forms.ModelChoiceField(PlateWalk.objects.all(), required=False, widget=forms.HiddenInput)


class WalkForm(forms.Form):
    place = forms.CharField(
        label=gettext_lazy("Where the machines stand"),
        max_length=PlateWalk._meta.get_field("place").max_length,
    )


@dataclass(frozen=True)
class Asked:
    """A field at which the person must look: where to choose or type, and which piece shows it."""

    field: forms.BoundField
    other: forms.BoundField | None
    piece: str

    @property
    def candidates(self) -> list[tuple[str, str]]:
        """Texts that it may say, each with how it is shown; none where it has to be typed."""
        choices = getattr(self.field.field.widget, "choices", [])
        return [(text, label) for text, label in choices if text != SOMETHING_ELSE]


class ConfirmForm(KindForm):
    """What a person confirms of a photo.

    What is sure is filled in; of the rest a person chooses between candidates (``serial`` with
    ``serial_other``) or types. Without a proposal everything is typed.
    """

    field_order = ["maker", "number", "serial", "kind", *FACTS]
    serial = SerialField(help_text=gettext_lazy("Leave empty only if nobody can read it."))
    volts = forms.CharField(label=gettext_lazy("Volts"), max_length=12, required=False)
    hertz = forms.CharField(label=gettext_lazy("Hertz"), max_length=12, required=False)
    amps = forms.CharField(label=gettext_lazy("Amps"), max_length=12, required=False)
    made = forms.CharField(label=gettext_lazy("Made"), max_length=12, required=False)

    def __init__(self, *args, proposal: Proposal | None = None, catalogued=None, **kwargs):
        super().__init__(*args, **kwargs)
        self.catalogued = catalogued
        self._open = unsettled(proposal or Proposal({}))
        self.fields["serial"].asked = True  # its help says when it may stay empty
        if proposal:
            self._fill_in(proposal)
        for field in self._open:
            self._ask(field)

    def _fill_in(self, proposal: Proposal) -> None:
        for name, text in settled(proposal).items():
            self.initial[name_in_form(name)] = text
        for name in FACTS:
            text = proposal.text_of(name)
            if text and name not in self.initial:
                self.fields[name].help_text = _("The plate may say “%(text)s”.") % {"text": text}

    def _ask(self, read: ReadField) -> None:
        """Let a person choose between candidates; where there are none worth it, let him type."""
        name = name_in_form(read.name)
        field = self.fields[name]
        if len(read.candidates) > 1 or read.outcome == read.outcome.LOOK:
            other = field.__class__(
                label=_("%(field)s, if it is something else") % {"field": field.label},
                max_length=field.max_length,
                required=False,
            )
            other.asked = True
            self.fields[name + OTHER] = other
            self.fields[name] = forms.CharField(
                label=field.label,
                max_length=field.max_length,
                required=False,
                widget=forms.RadioSelect(choices=_choices(read)),
            )
        elif read.text:
            field.help_text = _(
                "Read as “%(text)s”, but not surely. Compare it letter by letter."
            ) % {"text": read.text}

    @property
    def asked(self) -> list[Asked]:
        found = []
        for read in self._open:
            name = name_in_form(read.name)
            other = self[name + OTHER] if name + OTHER in self.fields else None
            found.append(Asked(self[name], other, str(read.name) if read.box else ""))
        return found

    @property
    def settled(self) -> list[forms.BoundField]:
        """The fields of the machine's identity that need no look, and are there to be corrected."""
        open_names = {name_in_form(read.name) for read in self._open}
        return [self[name] for name in ("maker", "number", "serial") if name not in open_names]

    @property
    def facts(self) -> list[forms.BoundField]:
        return [self[name] for name in FACTS]

    @property
    def asks_kind(self) -> bool:
        return self.catalogued is None or "kind" in self.errors

    def clean(self):
        for read in self._open:
            self._settle(name_in_form(read.name))
        return super().clean()

    def _settle(self, name: str) -> None:
        """One text of a choice and what was typed beside it."""
        if name + OTHER not in self.fields:
            return
        chosen, typed = self.cleaned_data.get(name), self.cleaned_data.pop(name + OTHER, "")
        picked = "" if chosen == SOMETHING_ELSE else chosen
        if picked and typed and match_key(picked) != match_key(typed):
            self.add_error(
                name,
                _("“%(chosen)s” is chosen, but “%(typed)s” is typed. Keep one of the two.")
                % {"chosen": chosen, "typed": typed},
            )
        elif not chosen and not typed:
            self.add_error(name, _("Choose what the plate says, or type it."))
        elif not picked and not typed and name != "serial":
            self.add_error(name, _("Type what the plate says."))
        else:
            self.cleaned_data[name] = typed or picked

    def confirmed(self) -> dict[str, Any]:
        """The arguments of ``confirm_reading``."""
        names = ["maker", "number", "serial", "kind", *map(str, FACTS)]
        return {name: self.cleaned_data[name] for name in names}


def _choices(read: ReadField) -> list[tuple[str, str]]:
    candidates = read.candidates or (Candidate(read.text, read.confidence),)
    shown = [(one.text, candidate_label(one)) for one in candidates if one.text]
    if read.name == FieldName.SERIAL:
        return [*shown, (SOMETHING_ELSE, _("something else, or nobody can read it"))]
    return [*shown, (SOMETHING_ELSE, _("something else"))]


def candidate_label(candidate: Candidate) -> str:
    return format_html(
        '<span class="number">{}</span>&ensp;<small>{}</small>',
        candidate.text,
        LIKELY[likelihood(candidate.probability)],
    )
