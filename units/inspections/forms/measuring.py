"""The fields of each measuring tool."""

from django import forms
from django.utils.translation import gettext_lazy as _

from units.inspections.domain.measures.conductors import GAUGES
from units.inspections.domain.measures.facts import Instruments
from units.inspections.domain.measures.outside import EITHER, measures
from units.inspections.domain.measures.ribbed import sections
from units.inspections.forms.fields import MeasuredField

ORIGINS = [("unknown", _("not known")), ("home", _("a home")), ("club", _("a club or gym"))]
AS_STATED = _("Empty: as the table below assumes.")


def belt_thickness() -> MeasuredField:
    return MeasuredField(
        _("Belt thickness"),
        "length",
        "calliper",
        required=False,
        help_text=_("It runs round the roller, so half of it counts on each side."),
    )


def shown_speed() -> MeasuredField:
    return MeasuredField(_("The display shows"), "speed", "display", required=False)


def origin() -> forms.ChoiceField:
    return forms.ChoiceField(
        label=_("The machine comes from"),
        choices=ORIGINS,
        required=False,
        help_text=_("How likely wear is before anything was measured."),
    )


class ToolForm(forms.Form):
    """Readings in the shop's measures (``system`` is us or metric)."""

    def __init__(self, *args, system: str, **kwargs):
        super().__init__(*args, **kwargs)
        known = measures(system)
        for _name, field in self._measured():
            field.in_measure(known[field.sort])

    def _measured(self):
        return [
            (name, field) for name, field in self.fields.items() if isinstance(field, MeasuredField)
        ]

    @property
    def used(self) -> list[tuple[str, str]]:
        """The instruments that are read, each once with the sort of its readings."""
        fields = [field for _name, field in self._measured()]
        return list({one.instrument: one.sort for one in fields if one.instrument}.items())

    def given(self) -> dict:
        """Readings in SI with their uncertainty, choices as they are; empty fields as None."""
        told, bench = dict(self.cleaned_data), Instruments()
        for name, field in self._measured():
            if told[name] is not None:
                value = field.inside(told[name])
                told[name] = bench.read(field.instrument, value) if field.instrument else value
        return told

    def inputs(self) -> dict:
        """What is kept beside a reading: each field as it was given, with its measure."""
        symbols = {name: field.measure.symbol for name, field in self._measured()}
        return {
            name: {"given": str(value), "measure": symbols.get(name, "")}
            for name, value in self.cleaned_data.items()
            if value not in (None, "")
        }

    def require_more(self, more: str, less: str, sentence) -> None:
        """Refuse unless one reading is above another; a missing one was refused at its field."""
        high, low = (self.cleaned_data.get(name) for name in (more, less))
        if high is not None and low is not None and high <= low:
            self.add_error(more, sentence)

    def require_with(self, first: str, others: tuple[str, ...], sentence) -> None:
        """Refuse a first field without the others."""
        if self.cleaned_data.get(first) is None:
            return
        for name in others:
            if self.cleaned_data.get(name) is None and name not in self.errors:
                self.add_error(name, sentence)


class TurnsForm(ToolForm):
    length = MeasuredField(_("Belt length, once round"), "length", "belt-length")
    turns = MeasuredField(_("Times round"), "turns", "count")
    seconds = MeasuredField(_("In seconds"), "time", "stopwatch")
    shown = shown_speed()


class RollerForm(ToolForm):
    rpm = MeasuredField(_("Roller"), "rate", "tachometer")
    diameter = MeasuredField(_("Roller diameter"), "length", "calliper")
    thickness = belt_thickness()
    shown = shown_speed()


class DriveForm(ToolForm):
    motor_rpm = MeasuredField(_("Motor"), "rate", "tachometer")
    motor_pulley = MeasuredField(_("Motor pulley diameter"), "length", "calliper")
    roller_pulley = MeasuredField(_("Roller pulley diameter"), "length", "calliper")
    diameter = MeasuredField(_("Roller diameter"), "length", "calliper")
    thickness = belt_thickness()
    shown = shown_speed()


class RangeForm(ToolForm):
    """Up to four pairs of shown and measured speed; the first must be there."""

    shown_1 = MeasuredField(_("Shown, low"), "speed", "display")
    measured_1 = MeasuredField(_("Measured, low"), "speed", "speed")
    shown_2 = MeasuredField(_("Shown, middle"), "speed", "display", required=False)
    measured_2 = MeasuredField(_("Measured, middle"), "speed", "speed", required=False)
    shown_3 = MeasuredField(_("Shown, high"), "speed", "display", required=False)
    measured_3 = MeasuredField(_("Measured, high"), "speed", "speed", required=False)
    shown_4 = MeasuredField(_("Shown, one more"), "speed", "display", required=False)
    measured_4 = MeasuredField(_("Measured, one more"), "speed", "speed", required=False)

    PAIRS = [(f"shown_{row}", f"measured_{row}") for row in (1, 2, 3, 4)]

    def clean(self):
        for pair in self.PAIRS:
            for first, other in (pair, pair[::-1]):
                self.require_with(first, (other,), _("Write both of the pair, or neither."))
        return super().clean()

    def given(self) -> dict:
        told = super().given()
        pairs = [(told[shown], told[measured]) for shown, measured in self.PAIRS]
        return {"points": [pair for pair in pairs if None not in pair]}


class CurrentForm(ToolForm):
    loaded = MeasuredField(_("Current, walker aboard"), "current", "ammeter")
    idle = MeasuredField(
        _("Current, nobody aboard"),
        "current",
        "ammeter",
        required=False,
        help_text=_("The belt running at the same speed. Only with it are odds given."),
    )
    speed = MeasuredField(_("Speed"), "speed", "display")
    walker = MeasuredField(_("Walker"), "mass", "scale")
    then = MeasuredField(_("Baseline, walker aboard"), "current", "ammeter", required=False)
    then_idle = MeasuredField(_("Baseline, nobody aboard"), "current", "ammeter", required=False)
    then_speed = MeasuredField(_("Baseline, speed"), "speed", "display", required=False)
    then_walker = MeasuredField(_("Baseline, walker"), "mass", "scale", required=False)
    origin = origin()

    def clean(self):
        more = _("With a walker aboard it must draw more than with nobody: look at both readings.")
        self.require_more("loaded", "idle", more)
        self.require_more("then", "then_idle", more)
        alike = _("Say how the baseline was taken, or leave the whole baseline empty.")
        self.require_with("then", ("then_speed", "then_walker"), alike)
        return super().clean()


class FrictionForm(ToolForm):
    METERS = [
        ("watts", _("watts at the cord")),
        ("amps", _("amperes at the cord")),
        ("motor", _("amperes at the motor’s leads, direct current")),
    ]
    meter = forms.ChoiceField(label=_("The meter shows"), choices=METERS)
    loaded = MeasuredField(_("Reading, walker aboard"), "power", "wattmeter")
    idle = MeasuredField(_("Reading, nobody aboard"), "power", "wattmeter", from_zero=True)
    volts = MeasuredField(
        _("Voltage where it is measured"),
        "voltage",
        "voltmeter",
        required=False,
        help_text=_("Not needed when the meter shows watts."),
    )
    speed = MeasuredField(_("Speed"), "speed", "speed")
    walker = MeasuredField(_("Walker"), "mass", "scale")
    origin = origin()
    efficiency = MeasuredField(_("Efficiency"), "share", required=False, help_text=AS_STATED)
    power_factor = MeasuredField(_("Power factor"), "plain", required=False, help_text=AS_STATED)

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        for name in ("loaded", "idle"):
            self.fields[name].label = self.fields[name].called  # the meter says in what

    def clean(self):
        self.require_more(
            "loaded",
            "idle",
            _("With a walker aboard it must draw more than with nobody: look at both readings."),
        )
        told = self.cleaned_data
        if told.get("meter") in ("amps", "motor") and told.get("volts") is None:
            self.add_error("volts", _("Amperes alone give no power: measure the voltage as well."))
        for name, most in (("efficiency", 100), ("power_factor", 1)):
            if told.get(name) is not None and told[name] > most:
                self.add_error(name, _("No more than all of it can arrive."))
        return super().clean()

    def clean_meter(self):
        """Stands before the readings: from here on they are read as what the meter shows."""
        meter = self.cleaned_data["meter"]
        if meter != "watts":
            for name in ("loaded", "idle"):
                field = self.fields[name]
                field.sort, field.instrument = "current", "ammeter"
                field.in_measure(EITHER["current"])
        return meter


class InclineForm(ToolForm):
    rise = MeasuredField(_("Front stands above the rear by"), "length", "tape")
    base = MeasuredField(_("Distance between the two along the floor"), "length", "tape")
    bottom = MeasuredField(_("Incline at its lowest"), "share", required=False, from_zero=True)
    stated = MeasuredField(
        _("The model’s range"), "share", required=False, help_text=_("From lowest to highest.")
    )


def gauge(**kwargs) -> forms.TypedChoiceField:
    choices = [(str(size), f"{size} AWG") for size in GAUGES]
    if not kwargs.get("required", True):
        choices = [("", _("no cord")), *choices]
    return forms.TypedChoiceField(
        label=_("Cord’s gauge"), choices=choices, coerce=int, empty_value=None, **kwargs
    )


class TensionForm(ToolForm):
    section = forms.ChoiceField(
        label=_("Section"), choices=[(name, name) for name in sections()], initial="PJ"
    )
    ribs = forms.IntegerField(
        label=_("Ribs"),
        min_value=1,
        max_value=40,
        widget=forms.TextInput(attrs={"inputmode": "numeric", "class": "big"}),
    )
    span = MeasuredField(_("Free span between the pulleys"), "length", "tape")
    sound = MeasuredField(_("Sound when plucked"), "sound", "sound")


class SupplyForm(ToolForm):
    NOMINAL = [("120", _("120 V")), ("208", _("208 V")), ("240", _("240 V"))]
    nominal = forms.TypedChoiceField(label=_("Supply"), choices=NOMINAL, coerce=float)
    open_volts = MeasuredField(_("At the outlet, machine still"), "voltage", "voltmeter")
    loaded_volts = MeasuredField(_("At the outlet, under load"), "voltage", "voltmeter")
    amps = MeasuredField(_("Current under load"), "current", "ammeter")
    gauge = gauge(required=False)
    length = MeasuredField(_("Cord’s length"), "way", "tape", required=False)
    machine_volts = MeasuredField(
        _("At the cord’s end, under load"), "voltage", "voltmeter", required=False
    )
    rated_amps = MeasuredField(_("The machine’s plate says"), "current", required=False)

    def clean(self):
        less = _(
            "Under load an outlet shows less than before: measure both again, the same outlet."
        )
        self.require_more("open_volts", "loaded_volts", less)
        self.require_more(
            "loaded_volts",
            "machine_volts",
            _("Behind a cord there is less than at the outlet: measure both again."),
        )
        together = _("Write gauge and length both, or neither.")
        self.require_with("gauge", ("length",), together)
        self.require_with("length", ("gauge",), together)
        return super().clean()


class CordForm(ToolForm):
    gauge = gauge()
    length = MeasuredField(_("Cord’s length"), "way", "tape")
    amps = MeasuredField(_("Current"), "current", "ammeter")
    volts = MeasuredField(_("Voltage at the outlet"), "voltage", "voltmeter")
    warmth = MeasuredField(_("Warmth of the copper"), "warmth", "thermometer", from_zero=True)


FORMS: dict[str, type[ToolForm]] = {
    "current": CurrentForm,
    "friction": FrictionForm,
    "incline": InclineForm,
    "belt-speed": TurnsForm,
    "roller-speed": RollerForm,
    "drive-speed": DriveForm,
    "speed-range": RangeForm,
    "belt-tension": TensionForm,
    "supply": SupplyForm,
    "cord": CordForm,
}
