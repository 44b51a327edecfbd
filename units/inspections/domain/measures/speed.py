"""Speed of a running belt, and how far the display is off."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import pi

from uncertainties import nominal_value


def belt_speed(length, turns, seconds):
    """m/s of a belt of this length (m, once round) that came by so many times in these seconds."""
    return length * turns / seconds


def roller_speed(rpm, diameter, thickness=0.0):
    """m/s of a belt that runs round a roller (m, m); its middle layer keeps its length, so half
    its thickness adds to the radius on each side."""
    return pi * (diameter + thickness) * rpm / 60


def roller_rate(motor_rpm, motor_pulley, roller_pulley):
    """rpm of the front roller that a motor drives; pulley diameters in any one measure. Slip of the
    drive belt is left out: a V-ribbed belt in order slips by less than the pulleys are measured."""
    return motor_rpm * motor_pulley / roller_pulley


def size(number):
    """A number without its sign, its uncertainty kept."""
    return number if nominal_value(number) >= 0 else -number


@dataclass(frozen=True)
class SpeedErrors:
    """How the shown speed differs from the measured one, over the range.

    Measured = ``offset`` + ``slope`` x shown; both None for fewer than two different shown speeds.
    ``errors`` are (shown - measured) / shown, in the order given; ``worst`` the greatest by size.
    """

    errors: tuple
    offset: object = None
    slope: object = None

    @property
    def worst(self):
        return max(self.errors, key=lambda error: abs(nominal_value(error)))


def speed_errors(points: Sequence[tuple]) -> SpeedErrors:
    """``points`` are (shown, measured) in m/s with uncertainties; at least one, none shown as 0.

    The line is the plain least-squares line; its uncertainty follows from that of the points.
    """
    errors = tuple((shown - measured) / shown for shown, measured in points)
    if len({nominal_value(shown) for shown, _ in points}) < 2:
        return SpeedErrors(errors)
    count = len(points)
    middle = sum(shown for shown, _ in points) / count
    level = sum(measured for _, measured in points) / count
    across = sum((shown - middle) ** 2 for shown, _ in points)
    slope = sum((shown - middle) * (measured - level) for shown, measured in points) / across
    return SpeedErrors(errors, offset=level - slope * middle, slope=slope)
