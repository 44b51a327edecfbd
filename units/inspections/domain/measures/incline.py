"""How steep a deck stands."""

from math import degrees

from uncertainties import umath


def grade(rise, base):
    """Rise over base, a share (0.10 is ten percent). The base lies along the floor."""
    return rise / base


def angle(rise, base):
    """The same in degrees."""
    return umath.atan(rise / base) * degrees(1)


def reach(low, high, stated):
    """The part of the stated range (a share, bottom to top) that it runs through."""
    return (high - low) / stated
