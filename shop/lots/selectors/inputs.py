"""What is known today of the models of a list, as it goes into a valuation."""

from collections import Counter, defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from django.db.models import Min
from django.db.models.functions import Coalesce

from parts.answers.domain.odds import stated as stated_answers
from parts.answers.domain.support import MAKER, NOT_ASKED
from parts.support.domain.coverage import Need
from parts.support.domain.routes import Offer
from parts.support.selectors import ModelCoverage, coverage_of
from shop.floor.domain.worth import Like, Worth, worth_of
from shop.floor.models import Stay
from shop.floor.selectors import beliefs, sold_like
from shop.lots.domain.composing import ModelFacts, PlaceFacts, market_of
from shop.lots.domain.inputs import Odds
from shop.lots.domain.listed import Wanted
from shop.resale.models import Sale
from shop.work.models import FlatRate
from units.catalogue.models import KindComponent, MachineModel
from units.inspections.domain.odds import CLUB, Cell, Chance
from units.inspections.domain.odds import stated as stated_odds
from units.inspections.selectors.odds import odds_of

YEARS_BACK = 2
USUAL_MINUTES = 45.0  # of a component without a flat rate; common practice, no published source
DAYS_IN_MONTH = 30.4375


@dataclass(frozen=True)
class Origin:
    """How many facts of the shop's own stand behind the figures of a model.

    ``sales`` of its kind and grade and ``own_sales`` of the model behind the price, ``stood``
    sales behind the months, ``looks`` at components of machines like it behind the odds, ``told``
    routes of which somebody said something.
    """

    sales: int = 0
    own_sales: int = 0
    stood: int = 0
    looks: int = 0
    told: int = 0


@dataclass(frozen=True)
class Known:
    """A model (or a kind) as it is known today."""

    facts: ModelFacts
    origin: Origin


def known_of(counted: Counter[Wanted], on: date, population: str = CLUB) -> dict[Wanted, Known]:
    """What is known of each that is wanted, with how many machines of it the lot counts.

    Left out where no price can be told of its kind. A constant number of queries.
    """
    models = MachineModel.objects.select_related("maker", "merged_into__maker")
    models = models.in_bulk([one.model for one in counted if one.model])
    found = {one: models[one.model].current for one in counted if one.model}
    gathered = _gather(counted, found, on, population)
    return {one: known for one in counted if (known := gathered.known(one, found.get(one)))}


@dataclass
class _Gathered:
    """Everything fetched at once."""

    offered: Counter  # of each current model, whatever the hours of its machines
    worths: dict[Wanted, Worth | None]
    places: dict[str, list[KindComponent]]
    cells: dict[tuple[Wanted, str], Cell]
    odds: dict[Cell, Chance]
    coverage: dict[int, ModelCoverage]
    minutes: dict[tuple[str | None, str], int]
    months: dict[int, list[float]]
    met: Counter

    def known(self, wanted: Wanted, model: MachineModel | None) -> Known | None:
        worth = self.worths[wanted]
        if worth is None:
            return None
        covered = self.coverage.get(model.pk) if model else None
        had = covered.holds if covered else stated_answers()["unasked"]["unknown_grade"]
        months = self.months.get(model.pk, []) if model else []
        places = [self._place(wanted, row, covered, had) for row in self.places[wanted.kind]]
        facts = ModelFacts(
            key=str(model) if model else wanted.kind,
            kind=wanted.kind,
            maker=model.maker.name if model else MAKER,
            places=tuple(places),
            market=market_of(worth, beliefs().spread, months),
            had=had,
            met=self.met[model.pk] / YEARS_BACK if model else 0.0,
            mass=float(model.mass) if model and model.mass else None,
            few=bool(model) and self.offered[model.pk] == 1,
        )
        return Known(facts, self._origin(wanted, worth, months, facts))

    def _place(self, wanted: Wanted, row: KindComponent, covered, had: float) -> PlaceFacts:
        slug = row.component_id
        chance = self.odds[self.cells[wanted, slug]]
        odds = Odds(_odds_key(self.cells[wanted, slug]), chance.alpha, chance.beta)
        general = self.minutes.get((None, slug), USUAL_MINUTES)
        minutes = float(self.minutes.get((wanted.kind, slug), general))
        needs = _needs(covered, slug) or (Need((Offer(MAKER, NOT_ASKED, holds=had),)),)
        return PlaceFacts(slug, row.wears, row.critical, odds, minutes, needs)

    def _origin(self, wanted, worth: Worth, months: list[float], facts: ModelFacts) -> Origin:
        cells = [self.cells[wanted, row.component_id] for row in self.places[wanted.kind]]
        offers = [one for place in facts.places for need in place.needs for one in need.offers]
        return Origin(
            sales=worth.of_kind,
            own_sales=worth.of_model,
            stood=len(months),
            looks=sum(self.odds[cell].outcomes for cell in cells),
            told=sum(one.status != NOT_ASKED for one in offers),
        )


def _needs(covered: ModelCoverage | None, slug: str) -> Sequence[Need]:
    if covered is None:
        return ()
    return next((one.needs for one in covered.coverage.components if one.place.slug == slug), ())


def _odds_key(cell: Cell) -> str:
    told = (cell.kind, cell.component, cell.population, cell.grade, cell.model, cell.hours)
    return "/".join(map(str, told))


def _gather(counted, models: dict[Wanted, MachineModel], on: date, population) -> _Gathered:
    current = {model.pk: model for model in models.values()}
    kinds = {one.kind for one in counted}
    places = _places(kinds)
    cells = {
        (one, row.component_id): _cell(one, models.get(one), row.component_id, population)
        for one in counted
        for row in places[one.kind]
    }
    offered = Counter()
    for one, model in models.items():
        offered[model.pk] += counted[one]
    return _Gathered(
        offered=offered,
        worths=_worths(counted, models, on),
        places=places,
        cells=cells,
        odds=odds_of(cells.values(), on),
        coverage=coverage_of(current.values(), on) if current else {},
        minutes=_minutes(kinds),
        months=_months_stood(current, on),
        met=_met(current, on),
    )


def _places(kinds: set[str]) -> dict[str, list[KindComponent]]:
    found = defaultdict(list)
    for row in KindComponent.objects.filter(kind__in=kinds).order_by("kind", "position"):
        found[row.kind_id].append(row)
    return found


def _cell(wanted: Wanted, model: MachineModel | None, slug: str, population: str) -> Cell:
    return Cell(
        kind=wanted.kind,
        component=slug,
        population=population,
        grade=model.grade if model else "",
        model=model.pk if model else None,
        hours="" if wanted.hours is None else stated_odds().band(wanted.hours),
    )


def _worths(counted, models: dict[Wanted, MachineModel], on: date) -> dict[Wanted, Worth | None]:
    likes = {one: _like(one, models.get(one), on) for one in counted}
    sold = sold_like(likes.values(), on)
    return {one: worth_of(like, sold, beliefs()) for one, like in likes.items()}


def _like(wanted: Wanted, model: MachineModel | None, on: date) -> Like:
    age = None if wanted.made_in is None else max(0.0, float(on.year - wanted.made_in))
    return Like(model.pk if model else 0, wanted.kind, model.grade if model else "", age)


def _minutes(kinds: set[str]) -> dict[tuple[str | None, str], int]:
    rates = FlatRate.objects.filter(act=FlatRate.Act.REPLACE).order_by()
    rows = rates.values_list("kind", "component", "minutes")
    return {(kind, slug): minutes for kind, slug, minutes in rows if kind is None or kind in kinds}


def _months_stood(models: Iterable[int], on: date) -> dict[int, list[float]]:
    """How long machines of each model stood between their first price and their sale."""
    sales = Sale.objects.filter(
        sold_on__lte=on, stay__left=Stay.Left.SOLD, stay__unit__model__in=_family(models)
    )
    sales = sales.order_by().annotate(
        priced_at=Min("stay__prices__set_at"),
        current=Coalesce("stay__unit__model__merged_into", "stay__unit__model"),
    )
    found = defaultdict(list)
    for current, priced_at, sold_on in sales.values_list("current", "priced_at", "sold_on"):
        if priced_at:
            found[current].append(max(0, (sold_on - priced_at.date()).days) / DAYS_IN_MONTH)
    return found


def _met(models: Iterable[int], on: date) -> Counter:
    """How many stays machines of each model had with us in the last years."""
    since = on - timedelta(days=365 * YEARS_BACK)
    stays = Stay.objects.filter(came_on__gt=since, came_on__lte=on, unit__model__in=_family(models))
    current = Coalesce("unit__model__merged_into", "unit__model")
    return Counter(stays.order_by().annotate(current=current).values_list("current", flat=True))


def _family(models: Iterable[int]):
    return MachineModel.objects.families_of(list(models)).order_by().values("pk")
