"""The questions that one puts to the tables of standard parts."""

from decimal import ROUND_HALF_UP, Decimal

from django import forms
from django.core.exceptions import ValidationError
from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as _

from parts.fits.domain import bearings, belts, screws
from parts.fits.domain.bearings import Bearing
from parts.fits.domain.belts import Belt
from parts.fits.domain.designations import Standard, read_standard
from parts.fits.domain.reading import DesignationError
from parts.fits.domain.screws import Screw


def millimetres(label, **kwargs) -> forms.DecimalField:
    limits = {"min_value": Decimal("0.1"), "max_value": Decimal(99999)}
    return forms.DecimalField(label=label, decimal_places=2, **limits | kwargs)


class AskDesignation(forms.Form):
    title = _("From the designation")

    designation = forms.CharField(label=_("Designation"), max_length=60)

    def clean_designation(self) -> Standard:
        try:
            return read_standard(self.cleaned_data["designation"])
        except DesignationError as error:
            raise ValidationError(gettext(error.sentence) % error.places) from error

    def found(self) -> list[Standard]:
        return [self.cleaned_data["designation"]]


class AskBelt(forms.Form):
    title = _("A V-ribbed belt, measured")

    section = forms.ChoiceField(
        label=_("Section"),
        choices=[(name, f"{name}: {row.pitch_mm} mm") for name, row in belts.SECTIONS.items()],
        initial="PJ",
        help_text=_("By the distance from rib to rib."),
    )
    width = millimetres(_("Width, mm"), max_value=Decimal(900))
    length = millimetres(
        _("Length, mm"), min_value=Decimal(100), max_value=Decimal(9999), help_text=_("All round.")
    )
    span = millimetres(_("Free span, mm"), required=False, help_text=_("For its tension."))
    hertz = forms.DecimalField(
        label=_("Hertz when plucked"),
        required=False,
        min_value=Decimal(1),
        max_value=Decimal(2000),
        decimal_places=1,
    )

    def clean_width(self) -> Decimal:
        width = self.cleaned_data["width"]
        section = self.cleaned_data.get("section")
        if section and belts.ribs_of_width(section, width) < 1:
            raise ValidationError(_("This is narrower than one rib of this section."))
        return width

    def belt(self) -> Belt:
        said = self.cleaned_data
        ribs = belts.ribs_of_width(said["section"], said["width"])
        return Belt(said["section"], ribs, said["length"].quantize(Decimal(1), ROUND_HALF_UP))

    def found(self) -> list[Standard]:
        return [self.belt()]

    def tension(self) -> belts.Tension | None:
        """The tension of its free span, when span and sound are told."""
        span, hertz = self.cleaned_data.get("span"), self.cleaned_data.get("hertz")
        return belts.tension_of(self.belt(), span / 1000, hertz) if span and hertz else None


class AskBearing(forms.Form):
    title = _("A ball bearing, measured")

    bore = millimetres(_("Bore, mm"))
    outside = millimetres(_("Outside diameter, mm"))
    width = millimetres(_("Width, mm"))

    def found(self) -> list[Standard]:
        said = self.cleaned_data
        numbers = bearings.of_sizes(said["bore"], said["outside"], said["width"])
        return [Bearing(number) for number in numbers]


class AskKey(forms.Form):
    title = _("A screw’s hex key")

    thread = forms.ChoiceField(label=_("Thread"), choices=[(one, one) for one in screws.KEYS])
    head = forms.ChoiceField(
        label=_("Head"),
        choices=[
            ("cap", _("cap head")),
            ("button", _("button head")),
            ("countersunk", _("countersunk head")),
            ("set", _("set screw, no head")),
        ],
    )

    def found(self) -> list[Standard]:
        return [Screw(self.cleaned_data["thread"], self.cleaned_data["head"])]


QUESTIONS = {
    "designation": AskDesignation,
    "belt": AskBelt,
    "bearing": AskBearing,
    "key": AskKey,
}
