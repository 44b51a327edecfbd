"""Friction of a running belt on its deck, from what the machine draws, and the way back.

P = mu m g v at the belt, over whole strides (by definition: friction times speed, the walker's
weight borne by the deck); what is drawn beyond an empty belt times the drive's efficiency.
"""

GRAVITY = 9.80665  # m/s2, standard gravity, by definition


def power_drawn(volts, amps, power_factor=1.0):
    """Watts at the cord; at a motor's leads (direct current) the power factor is 1."""
    return volts * amps * power_factor


def belt_power(friction, walker, speed):
    """Watts that the belt takes up: coefficient, kg, m/s."""
    return friction * walker * GRAVITY * speed


def friction(watts_loaded, watts_idle, efficiency, walker, speed):
    """Coefficient of friction; watts where they were measured, with a walker and with none."""
    return (watts_loaded - watts_idle) * efficiency / (walker * GRAVITY * speed)


def watts_expected(coefficient, watts_idle, efficiency, walker, speed):
    """Watts to be drawn at this friction: the same equation, solved the other way."""
    return watts_idle + belt_power(coefficient, walker, speed) / efficiency


def ratio(now, idle_now, then, idle_then):
    """How many times its baseline friction is: the same speed and walker, so that all else drops
    out. Each less its idle reading, in one and the same measure (A or W)."""
    return (now - idle_now) / (then - idle_then)


def taken_alike(one: tuple, other: tuple, tolerance: float) -> bool:
    """Whether two readings' (speed, walker) differ by no more than this share of the first."""
    return all(abs(b - a) <= tolerance * a for a, b in zip(one, other, strict=True))
