"""What became of each component that was looked at. Not looked at is missing, never fine.

Source: common practice, no published source.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from units.inspections.domain.odds import CLUB, PRIVATE, REPAIR
from units.inspections.domain.understanding import CLEAR, REPLACE, SERVICE

SOUND, SERVICED, UNDECIDED, WORN, REPLACED = "sound", "serviced", "undecided", "worn", "replaced"
NEEDS_REPLACING = frozenset({WORN, REPLACED})
RUN, POWERED, APART, NOT_KNOWN = "run", "powered", "apart", "unknown"
TAKEN_APART = "taken-apart"
# A final test and the look after a move prove our own work: they say nothing of how machines come.
PROOFS = frozenset({"final", "after-move"})
# Keys of steps that only tell something, though their answer may be a fault: which machine it is,
# what its display shows. Nobody has looked at a component for it.
TELLING = frozenset({"plate", "codes"})
# The words by which protocols call the place where a machine is looked at before it is bought.
POPULATION_OF = {"club": CLUB, "purchase": PRIVATE}


@dataclass(frozen=True)
class Seen:
    """One step's result: ``power`` is the step's (off, on, running, any). Where it does not
    ``judge`` it only tells something: that a machine stood idle is no look at its frame."""

    component: str
    condition: str
    sound: bool
    possible: bool
    power: str
    judges: bool = True


def population_of(occasion: str, told: str = "") -> str:
    """Of which population a machine is: by where it is looked at, else as told when the inspection
    was opened. Most machines that are looked at come to be repaired."""
    return POPULATION_OF.get(occasion) or told or REPAIR


def fates_of(seen: Iterable[Seen], acts: Mapping[str, str]) -> dict[str, str]:
    """``{component: fate}`` of those that were looked at; ``acts`` are the verdicts of the same
    looks.

    A component that the rules only reasoned about, and nobody looked at, is left out. What is not
    sound, and about which no rule decides, is undecided until work tells.
    """
    sound: dict[str, bool] = {}
    for one in seen:
        if one.possible and one.judges:
            sound[one.component] = sound.get(one.component, True) and one.sound
    return {
        component: _fate(is_sound, acts.get(component)) for component, is_sound in sound.items()
    }


def _fate(is_sound: bool, act: str | None) -> str:
    if act == REPLACE:
        return WORN
    if act == CLEAR or (is_sound and act != SERVICE):
        return SOUND
    return SERVICED if act == SERVICE else UNDECIDED


def state_of(seen: Iterable[Seen]) -> str:
    """How far the machine could be tried: run, powered only, taken apart, or not known."""
    done = [one for one in seen if one.possible]
    if any(one.condition == TAKEN_APART for one in done):
        return APART
    powers = {one.power for one in done}
    if "running" in powers:
        return RUN
    return POWERED if "on" in powers else NOT_KNOWN
