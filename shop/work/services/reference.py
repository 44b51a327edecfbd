import tomllib
from pathlib import Path

from django.db import transaction
from django.utils.translation import gettext as _

from shop.work.models import FlatRate
from units.catalogue.models import Component


@transaction.atomic
def load_reference(folder: Path) -> int:
    """Add flat rates that are not there yet; what the shop edited stays. Returns how many.

    Raises ValueError naming the file for a component or a kind of work that nobody knows.
    """
    table = tomllib.loads((folder / "flatrates.toml").read_text(encoding="utf-8"))
    known = set(Component.objects.values_list("slug", flat=True))
    wanted = {(act, slug): minutes for act, minutes in table["usual"].items() for slug in known}
    for act, minutes_of in table["minutes"].items():
        wanted |= {(act, slug): minutes for slug, minutes in minutes_of.items()}
    _require_known(wanted, known)
    there = set(FlatRate.objects.values_list("act", "component_id"))
    new = [
        FlatRate(act=act, component_id=slug, minutes=minutes)
        for (act, slug), minutes in sorted(wanted.items())
        if (act, slug) not in there
    ]
    FlatRate.objects.bulk_create(new)
    return len(new)


def _require_known(wanted, known: set[str]) -> None:
    acts = {act for act, _slug in wanted} - set(FlatRate.Act.values)
    unknown = sorted(acts | {slug for _act, slug in wanted} - known)
    if unknown:
        raise ValueError(
            _("flatrates.toml names what nobody knows: %(names)s.") % {"names": ", ".join(unknown)}
        )
