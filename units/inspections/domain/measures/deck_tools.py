"""The tools for incline, and for the friction of belt and deck."""

from uncertainties import nominal_value, std_dev, ufloat

from units.inspections.domain.measures.facts import assumption, facts, limit
from units.inspections.domain.measures.friction import (
    friction,
    power_drawn,
    ratio,
    taken_alike,
    watts_expected,
)
from units.inspections.domain.measures.incline import angle, grade, reach
from units.inspections.domain.measures.odds import Odds, Populations, odds_of
from units.inspections.domain.measures.outcome import Chance, Figure, Outcome, Saying, Tool
from units.inspections.domain.tables import gettext_noop as _

SURE, UNLIKELY = 0.8, 0.2  # from here on the words say worn, or sound


def incline(given) -> Outcome:
    steep = grade(given["rise"], given["base"])
    main = Figure(_("Incline"), steep, "share")
    others = (Figure(_("As an angle"), angle(given["rise"], given["base"]), "angle"),)
    if given.get("stated") is None:
        return Outcome(main, others)
    part = reach(given.get("bottom") or 0.0, steep, given["stated"])
    short = abs(nominal_value(part) - 1)
    whole = short <= max(2 * std_dev(part), limit("incline-reach"))
    saying = (
        Saying(_("It reaches what the model states."), state="good")
        if whole
        else Saying(
            _(
                "It does not reach what the model states: look at the rack and the position sensor,"
                " and calibrate as the maker says."
            ),
            state="watch",
        )
    )
    return Outcome(main, (*others, Figure(_("Of the model’s range"), part, "share")), (saying,))


def populations(table: str, before: float) -> Populations:
    row = facts()[table]
    return Populations(row["new"], row["worn"], row["spread"], row["threshold"], before)


def belt_on_deck(given) -> Outcome:
    """``meter`` is watts (at the cord), amps (at the cord) or motor (amperes at its leads)."""
    efficiency = _assumed(
        "efficiency-motor" if given["meter"] == "motor" else "efficiency-cord",
        given.get("efficiency"),
    )
    factor = 1.0
    if given["meter"] == "amps":
        factor = _assumed("power-factor", given.get("power_factor"))
    loaded, idle = (_watts(given, given[word], factor) for word in ("loaded", "idle"))
    speed, walker = given["speed"], given["walker"]
    found = friction(loaded, idle, efficiency, walker, speed)
    row = facts()["friction"]
    new = ufloat(row["new"], row["new"] * row["spread"])
    expected = watts_expected(new, idle, efficiency, walker, speed)
    odds = odds_of(
        found.nominal_value,
        found.std_dev,
        populations("friction", facts()["worn_before"][given.get("origin") or "unknown"]),
    )
    return Outcome(
        Figure(_("Friction of belt on deck"), found),
        _when_new(expected, given, factor),
        (*_worn_words(odds), _threshold_words(odds, row["threshold"]), MORE_THAN_WEAR),
        speed=speed.nominal_value,
        walker=walker.nominal_value,
    )


def _assumed(key: str, given: float | None):
    return assumption(key).near(given) if given else assumption(key).number


def _watts(given, reading, factor):
    return reading if given["meter"] == "watts" else power_drawn(given["volts"], reading, factor)


def _when_new(watts, given, factor) -> tuple[Figure, ...]:
    label = _("To expect of a new belt and deck")
    if given["meter"] == "watts":
        return (Figure(label, watts, "power"),)
    return (Figure(label, watts / (given["volts"] * factor), "current"),)


def _worn_words(odds: Odds) -> tuple[Saying, ...]:
    places = {"chance": Chance(odds.worn)}
    if odds.worn >= SURE:
        sentence = _("Belt and deck are worn: %(chance)s. Look at both by hand before you replace.")
        return (Saying(sentence, places, "watch"),)
    if odds.worn <= UNLIKELY:
        return (Saying(_("That belt and deck are worn is %(chance)s."), places, "good"),)
    sentence = _(
        "Whether belt and deck are worn is not settled: %(chance)s. Look by hand, and compare with"
        " a baseline of this machine or model."
    )
    return (Saying(sentence, places, "part"),)


def _threshold_words(odds: Odds, threshold: float) -> Saying:
    sentence = _("That the friction lies beyond %(threshold)s is %(chance)s.")
    places = {"threshold": Figure("", threshold), "chance": Chance(odds.beyond)}
    return Saying(sentence, places)


MORE_THAN_WEAR = Saying(
    _(
        "Not wear alone drags: a dirty, dry or over-tight belt does too. Clean, lubricate only as"
        " the maker says, set the tension, and measure again."
    )
)


def current_alike(given) -> Outcome:
    """Current under load, beside a baseline where one is given."""
    now, speed, walker = given["loaded"], given["speed"], given["walker"]
    place = {"speed": speed.nominal_value, "walker": walker.nominal_value}
    main = Figure(_("Current under load"), now, "current")
    if given.get("then") is None:
        return Outcome(main, (), (NO_BASELINE,), **place)
    before = (given["then_speed"].nominal_value, given["then_walker"].nominal_value)
    if not taken_alike(before, tuple(place.values()), limit("alike")):
        return Outcome(main, (), (NOT_ALIKE,), **place)
    if given.get("idle") is None or given.get("then_idle") is None:
        times = Figure(_("Of the baseline"), now / given["then"], "share")
        return Outcome(main, (times,), (NO_IDLE,), **place)
    times = ratio(now, given["idle"], given["then"], given["then_idle"])
    before = facts()["worn_before"][given.get("origin") or "unknown"]
    among = populations("ratio", before)
    odds = odds_of(times.nominal_value, times.std_dev, among)
    told = (*_worn_words(odds), MORE_THAN_WEAR)
    figure = Figure(_("Friction, of the baseline’s"), times, "share")
    return Outcome(main, (figure,), told, **place)


NO_BASELINE = Saying(
    _(
        "There is no baseline to compare with. The limit belongs to the model; keep a reading of a"
        " sound machine as its baseline."
    )
)
NOT_ALIKE = Saying(
    _(
        "The baseline was taken at another speed or with another walker: the two cannot be"
        " compared. Measure again as then."
    ),
    state="watch",
)
NO_IDLE = Saying(
    _(
        "Without the idle readings, nobody aboard, the ratio shows less wear than there is, and no"
        " odds are given. Measure both idle as well."
    ),
    state="part",
)

TREADMILLS = ("treadmill",)
LOADED = ("maker-first", "stand-off", "moving-parts")
TOOLS = (
    Tool(
        "current",
        "current",
        _("Current under load"),
        _("Current against the baseline"),
        _("The main way to judge belt and deck: the same speed and walker as on a sound machine."),
        current_alike,
        LOADED,
        ("alike",),
        TREADMILLS,
        steps=("current",),
        tables=("ratio", "worn_before"),
    ),
    Tool(
        "friction",
        "friction",
        _("Friction of belt on deck"),
        _("Friction of belt on deck"),
        _("Without a baseline: from what the machine draws, the walker’s mass and the speed."),
        belt_on_deck,
        LOADED,
        ("efficiency-cord", "efficiency-motor", "power-factor"),
        TREADMILLS,
        steps=("current",),
        tables=("friction", "worn_before"),
    ),
    Tool(
        "incline",
        "incline",
        _("Incline"),
        _("Incline"),
        _("How much the front stands above the rear, over the distance along the floor."),
        incline,
        ("maker-first", "crush", "moving-parts"),
        ("incline-reach",),
        ("treadmill", "elliptical"),
        steps=("incline",),
    ),
)
