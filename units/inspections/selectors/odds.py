"""How likely the components of machines need replacing, learnt from what was looked at."""

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta

from django.core.cache import cache
from django.db import connection
from django.db.models import Case, Exists, Max, OuterRef, When
from django.db.models.functions import Coalesce
from django.utils import timezone
from django.utils.translation import gettext_lazy

from units.catalogue.models import Component, KindComponent, MachineModel
from units.inspections.domain.odds import Cell, Chance, Tally, chances, stated
from units.inspections.domain.outcomes import NEEDS_REPLACING, UNDECIDED
from units.inspections.models import ComponentOutcome

KEPT_SECONDS = 24 * 3600
WORDS = {
    "seldom": gettext_lazy("seldom"),
    "sometimes": gettext_lazy("now and then"),
    "often": gettext_lazy("often"),
    "mostly": gettext_lazy("more often than not"),
    "nearly-always": gettext_lazy("nearly always"),
}


@dataclass(frozen=True)
class ComponentOdds:
    """A component and how likely it needs replacing."""

    component: Component
    chance: Chance

    @property
    def word(self) -> str:
        return WORDS[self.chance.frequency]


def replacement_of(
    model: MachineModel, population: str, on: date | None = None
) -> list[ComponentOdds]:
    """What of a model usually needs replacing, the likeliest first. Three queries, two on a day
    that has learnt."""
    rows = KindComponent.objects.filter(kind=model.kind_id).select_related("component")
    names = {row.component_id: row.component for row in rows.order_by("position")}
    found = odds_of(_cells(model, names, population), on)
    odds = [ComponentOdds(names[cell.component], chance) for cell, chance in found.items()]
    return sorted(odds, key=lambda one: -one.chance.mean)


def odds_of(cells: Iterable[Cell], on: date | None = None) -> dict[Cell, Chance]:
    """The chance that the component of each cell needs replacing, as was known on a day.

    Two queries the first time on a day, then one, however many cells.
    """
    return chances(cells, tallies(on or timezone.localdate()), stated())


def cells_of(
    model: MachineModel, population: str, hours: int | None = None, state: str = ""
) -> list[Cell]:
    """A cell for every component of a model's kind, in the kind's order. One query."""
    slugs = KindComponent.objects.filter(kind=model.kind_id).values_list("component_id", flat=True)
    return _cells(model, slugs.order_by("position"), population, hours, state)


def _cells(model, slugs: Iterable[str], population, hours=None, state="") -> list[Cell]:
    return [
        Cell(
            kind=model.kind_id,
            component=slug,
            population=population,
            grade=model.grade,
            model=model.pk,
            hours="" if hours is None else stated().band(hours),
            state=state,
        )
        for slug in slugs
    ]


def tallies(on: date) -> list[Tally]:
    """All that was looked at by a day, and written down by the evening before it.

    Kept while nothing older is added: a day of many looks is not a day of learning.
    """
    known_at = timezone.make_aware(datetime.combine(on, time.min)) - timedelta(microseconds=1)
    heard = ComponentOutcome.objects.filter(looked_on__lte=on, recorded_at__lte=known_at)
    newest = heard.order_by("-pk").values_list("pk", flat=True).first()
    if newest is None:
        return []
    name = str(connection.settings_dict["NAME"]).encode().hex()[-60:]
    return cache.get_or_set(
        f"replacement:{name}:{newest}:{on}", lambda: _count(heard), KEPT_SECONDS
    )


def _count(heard) -> list[Tally]:
    """One document speaks once of a component: what was found and then done are one outcome.

    A part that was changed where nobody wrote down a look is left out: such rows exist only for
    what was bad, and would tell nothing of the machines where nobody looked.
    """
    same = {name: OuterRef(name) for name in ("unit", "component", "document")}
    looked = ComponentOutcome.objects.exclude(known=ComponentOutcome.Known.WORK).filter(**same)
    bad = Case(When(fate__in=NEEDS_REPLACING, then=1), When(fate=UNDECIDED, then=None), default=0)
    episodes = (
        heard.filter(Exists(looked))
        .order_by()
        .values("unit", "component", "document")
        .annotate(
            bad=Max(bad),
            kind=Max("unit__model__kind"),
            grade=Max("unit__model__grade"),
            model=Max(Coalesce("unit__model__merged_into", "unit__model")),
            from_where=Max("population"),
            tried=Max("state"),
            used_for=Max("hours"),
        )
    )
    looks, worn = Counter(), Counter()
    for row in episodes.iterator(5000):
        if row["bad"] is not None:
            cell = Cell(
                kind=row["kind"],
                component=row["component"],
                population=row["from_where"],
                grade=row["grade"],
                model=row["model"],
                hours=stated().band(row["used_for"]),
                state=row["tried"],
            )
            looks[cell] += 1
            worn[cell] += row["bad"]
    return [Tally(cell, count, worn[cell]) for cell, count in looks.items()]
