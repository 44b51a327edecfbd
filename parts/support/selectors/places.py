"""The components of every kind of machine, which only the reference data change."""

from collections import defaultdict

from django.core.cache import cache

from parts.answers.selectors import kept_name
from parts.support.domain.coverage import Place
from units.catalogue.models import KindComponent

KEPT_SECONDS = 300


def places_by_kind() -> dict[str, list[Place]]:
    """``{kind: its components in order}``. One query every few minutes, else none."""
    return cache.get(kept_name("places")) or renew_places()


def renew_places() -> dict[str, list[Place]]:
    """Read them again and keep them. One query."""
    found = defaultdict(list)
    rows = KindComponent.objects.select_related("component").order_by("kind", "position")
    for row in rows:
        place = Place(row.component_id, row.component.name, row.wears, row.critical)
        found[row.kind_id].append(place)
    cache.set(kept_name("places"), dict(found), KEPT_SECONDS)
    return dict(found)
