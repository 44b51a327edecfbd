import tomllib
from pathlib import Path

from django.db import transaction
from django.utils.translation import gettext as _

from shop.work.models import FlatRate, WarrantyTerm
from units.catalogue.models import Component, KindComponent


@transaction.atomic
def load_reference(folder: Path) -> int:
    """Add flat rates that are not there yet; what the shop edited stays. Returns how many.

    Raises ValueError naming the file for a component, a kind or a sort of work that nobody knows.
    """
    table = tomllib.loads((folder / "flatrates.toml").read_text(encoding="utf-8"))
    known = set(Component.objects.values_list("slug", flat=True))
    wanted = {(act, slug, None): took for act, took in table["usual"].items() for slug in known}
    wanted |= _rates(table["minutes"], None)
    for kind, minutes in table.get("kinds", {}).items():
        wanted |= _rates(minutes, kind)
    _require_known(wanted, known)
    there = set(FlatRate.objects.values_list("act", "component_id", "kind_id"))
    new = [
        FlatRate(act=act, component_id=slug, kind_id=kind, minutes=minutes)
        for (act, slug, kind), minutes in wanted.items()
        if (act, slug, kind) not in there
    ]
    FlatRate.objects.bulk_create(new)
    return len(new) + _load_terms(folder)


def _load_terms(folder: Path) -> int:
    """Warranty terms of a kind of work that has none yet."""
    table = tomllib.loads((folder / "warranty.toml").read_text(encoding="utf-8"))
    there = set(WarrantyTerm.objects.values_list("work", flat=True))
    new = [
        WarrantyTerm(work=WarrantyTerm.Work(work), from_on=table["from_on"], **days)
        for work, days in table["terms"].items()
        if work not in there
    ]
    WarrantyTerm.objects.bulk_create(new)
    return len(new)


def _rates(minutes: dict, kind: str | None) -> dict[tuple, int]:
    """``{(act, component, kind): minutes}`` of a table of ``{act: {component: minutes}}``."""
    return {(act, slug, kind): took for act, of in minutes.items() for slug, took in of.items()}


def _require_known(wanted, known: set[str]) -> None:
    acts = {act for act, _slug, _kind in wanted} - set(FlatRate.Act.values)
    has = set(KindComponent.objects.values_list("kind_id", "component_id"))
    foreign = {f"{kind}: {slug}" for _act, slug, kind in wanted if kind and (kind, slug) not in has}
    unknown = sorted(acts | {slug for _act, slug, _kind in wanted} - known | foreign)
    if unknown:
        raise ValueError(
            _("flatrates.toml names what nobody knows: %(names)s.") % {"names": ", ".join(unknown)}
        )
