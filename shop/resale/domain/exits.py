"""The ways by which a machine of ours leaves, and what each of them asks for."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass


class ExitError(ValueError):
    """The table of exits is wrong: a defect of the file."""


@dataclass(frozen=True)
class Need:
    """A condition by its key, and whether the owner may let it pass for a reason."""

    condition: str
    waivable: bool


@dataclass(frozen=True)
class Exit:
    """One way out. ``left`` is what the stay says afterwards; ``terms`` go along in writing."""

    key: str
    name: str
    left: str
    sale: bool
    outlet: bool
    needs: tuple[Need, ...]
    terms: tuple[str, ...]

    @property
    def written(self) -> bool:
        """Whether a paper with terms and faults goes along."""
        return bool(self.terms)

    def waivable(self, condition: str) -> bool:
        return Need(condition, True) in self.needs

    def __str__(self):
        return self.key


def read_exits(table: Mapping, known: Sequence[str]) -> dict[str, Exit]:
    """The exits from ``exits.toml``. ``known`` are the conditions, in the order of seeing to them.

    Raises ExitError for a condition that nobody knows or that stands twice.
    """
    groups = table["groups"]
    return {key: _exit(key, row, groups, known) for key, row in table["exits"].items()}


def _exit(key: str, row: Mapping, groups: Mapping, known: Sequence[str]) -> Exit:
    needs = [
        *(Need(name, False) for name in _spread(row["needs"], groups)),
        *(Need(name, True) for name in _spread(row["waivable"], groups)),
    ]
    names = [need.condition for need in needs]
    if unknown := set(names) - set(known):
        raise ExitError(f"{key}: nobody knows the conditions {', '.join(sorted(unknown))}.")
    if len(names) > len(set(names)):
        raise ExitError(f"{key}: a condition stands twice.")
    return Exit(
        key=key,
        name=row["name"],
        left=row["left"],
        sale=row["sale"],
        outlet=row["outlet"],
        needs=tuple(sorted(needs, key=lambda need: known.index(need.condition))),
        terms=tuple(row["terms"]),
    )


def _spread(names: Iterable[str], groups: Mapping) -> list[str]:
    return [one for name in names for one in groups.get(name, [name])]


def outlet_fits(plug: str, outlet: str) -> bool:
    """Whether the buyer's outlet takes the machine's plug: the same configuration, as written.

    Case, spaces and a leading maker's mark of the standard ("NEMA") make no difference.
    """
    return bool(outlet) and _shape(plug) == _shape(outlet)


def _shape(text: str) -> str:
    return "".join(text.upper().replace("NEMA", "").split())
