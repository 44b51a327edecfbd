"""The tools for the speed of the running belt."""

from units.inspections.domain.measures.facts import limit
from units.inspections.domain.measures.odds import beyond
from units.inspections.domain.measures.outcome import Chance, Figure, Outcome, Saying, Tool
from units.inspections.domain.measures.speed import (
    belt_speed,
    roller_rate,
    roller_speed,
    size,
    speed_errors,
)
from units.inspections.domain.tables import gettext_noop as _

TREADMILLS = ("treadmill",)
RUNNING = ("maker-first", "stand-off", "moving-parts")


def by_turns(given) -> Outcome:
    return _one_speed(belt_speed(given["length"], given["turns"], given["seconds"]), given)


def by_roller(given) -> Outcome:
    thickness = given.get("thickness") or 0.0
    return _one_speed(roller_speed(given["rpm"], given["diameter"], thickness), given)


def by_drive(given) -> Outcome:
    rate = roller_rate(given["motor_rpm"], given["motor_pulley"], given["roller_pulley"])
    speed = roller_speed(rate, given["diameter"], given.get("thickness") or 0.0)
    outcome = _one_speed(speed, given)
    turning = Figure(_("Front roller"), rate, "rate")
    return Outcome(outcome.main, (turning, *outcome.others), outcome.sayings)


def _one_speed(speed, given) -> Outcome:
    main = Figure(_("Speed of the belt"), speed, "speed")
    if given.get("shown") is None:
        return Outcome(main)
    errors = speed_errors([(given["shown"], speed)])
    off = Figure(_("The display is off by"), errors.worst, "share")
    return Outcome(main, (off,), (_judged(errors.worst),))


def over_range(given) -> Outcome:
    errors = speed_errors(given["points"])
    main = Figure(_("Greatest difference, of the shown speed"), size(errors.worst), "share")
    if errors.slope is None:
        return Outcome(main, (), (_judged(errors.worst),))
    others = (
        Figure(_("Measured for each shown"), errors.slope, "plain"),
        Figure(_("Measured when zero is shown"), errors.offset, "speed"),
    )
    return Outcome(main, others, (_judged(errors.worst), _shape(errors)))


def _judged(worst) -> Saying:
    most = limit("speed-error")
    chance = beyond(size(worst), most)
    places = {
        "chance": Chance(chance),
        "limit": Figure("", most, "share"),
    }
    if chance < 0.5:
        sentence = _(
            "The display agrees with the belt: that it is off by more than %(limit)s, the"
            " shop’s own limit, is %(chance)s."
        )
        return Saying(sentence, places, "good")
    sentence = (
        _(
            "The display shows more than the belt does: that it is off by more than %(limit)s, the"
            " shop’s own limit, is %(chance)s."
        )
        if worst.nominal_value > 0
        else _(
            "The belt is faster than the display shows: that it is off by more than %(limit)s,"
            " the shop’s own limit, is %(chance)s."
        )
    )
    return Saying(sentence, places, "watch")


def _shape(errors) -> Saying:
    """Which of two faults the line speaks for: what is proportional, or what is added."""
    if abs(errors.slope.nominal_value - 1) > 2 * errors.slope.std_dev:
        return Saying(
            _(
                "The difference grows with the speed: look at the roller’s or pulley’s diameter set"
                " in the console, then calibrate as the maker says."
            )
        )
    if abs(errors.offset.nominal_value) > 2 * errors.offset.std_dev:
        return Saying(
            _("The difference is the same at every speed: calibrate as the maker says."),
        )
    return Saying(_("No difference shows that the measurement itself does not explain."))


TOOLS = (
    Tool(
        "belt-speed",
        "belt-speed",
        _("Speed of the belt"),
        _("Belt speed by turns"),
        _("Mark the belt, count how often the mark comes by, and stop the time."),
        by_turns,
        RUNNING,
        ("speed-error",),
        TREADMILLS,
        steps=("speed",),
    ),
    Tool(
        "roller-speed",
        "belt-speed",
        _("Speed of the belt"),
        _("Belt speed by the roller"),
        _("The roller’s turns a minute, by a tachometer, and its diameter."),
        by_roller,
        RUNNING,
        ("speed-error",),
        TREADMILLS,
        steps=("speed",),
    ),
    Tool(
        "drive-speed",
        "belt-speed",
        _("Speed of the belt"),
        _("Belt speed by the drive"),
        _("The motor’s turns a minute through both pulleys to the roller."),
        by_drive,
        RUNNING,
        ("speed-error",),
        TREADMILLS,
        steps=("speed",),
    ),
    Tool(
        "speed-range",
        "speed",
        _("The display is off by"),
        _("The display over the range"),
        _("Shown and measured speed at a low, a middle and a high speed."),
        over_range,
        RUNNING,
        ("speed-error",),
        TREADMILLS,
        steps=("speed",),
    ),
)
