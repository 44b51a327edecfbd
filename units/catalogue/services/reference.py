import tomllib
from pathlib import Path

from django.db import transaction

from units.catalogue.models import Component, Kind, KindComponent

GROUPS = ("wears", "critical", "others")


@transaction.atomic
def load_reference(folder: Path) -> None:
    """Kinds and components from ``kinds.toml``; loading again brings them up to date.

    A component that a kind no longer names leaves the kind; kinds and components themselves
    stay, since findings may name them. Raises ValueError when a kind names an unknown component.
    """
    data = tomllib.loads((folder / "kinds.toml").read_text(encoding="utf-8"))
    components = data["components"]
    for slug, name in components.items():
        Component.objects.update_or_create(slug=slug, defaults={"name": name})
    for position, row in enumerate(data["kinds"], start=1):
        if unknown := {slug for group in GROUPS for slug in row[group]} - set(components):
            raise ValueError(f"kinds.toml: {row['slug']}: unknown components {sorted(unknown)}")
        _load_kind(row, position)


def _load_kind(row: dict, position: int) -> None:
    kind, _ = Kind.objects.update_or_create(
        slug=row["slug"],
        defaults={
            "name": row["name"],
            "position": position,
            "has_safety_key": row["has_safety_key"],
            "has_cord": row["has_cord"],
        },
    )
    # A component may both wear and be critical; it stands once, where it is named first.
    slugs = list(dict.fromkeys(slug for group in GROUPS for slug in row[group]))
    for place, slug in enumerate(slugs, start=1):
        KindComponent.objects.update_or_create(
            kind=kind,
            component_id=slug,
            defaults={
                "position": place,
                "wears": slug in row["wears"],
                "critical": slug in row["critical"],
            },
        )
    kind.components.exclude(component__in=slugs).delete()
