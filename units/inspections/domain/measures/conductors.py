"""Copper conductors by gauge, and what a cord takes of the voltage."""

from math import pi

# IACS annealed copper at 20 degrees Celsius.
RESISTIVITY = 1.7241e-8  # ohm metre
ALPHA = 0.00393  # a kelvin
GAUGES = (18, 16, 14, 12, 10)


def diameter(gauge: int) -> float:
    """Metres, of a solid conductor by its American Wire Gauge.

    ASTM B258; the formula is from memory, and reproduces published diameters.
    """
    return 0.127e-3 * 92 ** ((36 - gauge) / 39)


def ohms_a_metre(gauge: int, celsius=20.0):
    """Ohms for one metre of one solid copper conductor."""
    at_20 = RESISTIVITY / (pi * (diameter(gauge) / 2) ** 2)
    return at_20 * (1 + ALPHA * (celsius - 20))


def cord_resistance(gauge: int, length, celsius=20.0):
    """Ohms of a cord's two live conductors; ``length`` is the cord's, in metres."""
    return 2 * length * ohms_a_metre(gauge, celsius)


def cord_drop(gauge: int, length, amps, celsius=20.0):
    """Volts that a cord takes, single phase: 2 I R L."""
    return amps * cord_resistance(gauge, length, celsius)
