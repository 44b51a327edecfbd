"""Six years of answers: about models and components by telephone, about parts by suppliers' lists.

A maker's word follows a life: supported at first, back-ordered now and then, and for a third of
the models ended from some day on.
"""

from collections.abc import Iterator
from datetime import date, timedelta
from decimal import Decimal
from random import Random

from parts.answers.models import Answer
from parts.fits.models import Part
from shop.front.filling.plan import DAYS, SUPPLIERS, Plan, create, noon
from units.catalogue.models import KindComponent, MachineModel

MODEL_SHARE, COMPONENT_SHARE = 0.12, 0.08
ENDS = 0.33
SPOKEN = ("phone", "phone", "mail", "notice")
LIVING = ("supported",) * 8 + ("back-ordered", "limited", "no-answer")
LISTED = ("supported",) * 7 + ("back-ordered", "limited", "ended")


def fill_answers(plan: Plan) -> None:
    create(plan, Answer, _answers(plan))


def _answers(plan: Plan) -> Iterator[Answer]:
    of_models = int(plan.answers * MODEL_SHARE)
    of_components = int(plan.answers * COMPONENT_SHARE)
    yield from _makers_words(plan, of_models, of_components)
    yield from _listings(plan, plan.answers - of_models - of_components)


def _makers_words(plan: Plan, of_models: int, of_components: int) -> Iterator[Answer]:
    chance = plan.chance("makers' words")
    models = list(MachineModel.objects.order_by("pk"))
    components = _components()
    ends = [_end(plan, chance) for _ in models]
    for at in range(of_models + of_components):
        spot = at % len(models)
        model, day = models[spot], plan.day(chance)
        channel = chance.choice(SPOKEN)
        status = "ended" if day >= ends[spot] else chance.choice(LIVING)
        component = None
        if at >= of_models:
            component = chance.choice(components[model.kind_id])
        yield _said(
            plan, day, model=model, component_id=component, status=status, channel=channel,
            given_by="parts desk",
        )  # fmt: skip


def _end(plan: Plan, chance: Random) -> date:
    """The day from which the maker supplies a model no more; after the six years for most."""
    if chance.random() >= ENDS:
        return date.max
    return plan.on - timedelta(days=chance.randrange(DAYS))


def _components() -> dict[str, list[str]]:
    found: dict[str, list[str]] = {}
    rows = KindComponent.objects.order_by("kind", "position")
    for kind, component in rows.values_list("kind_id", "component_id"):
        found.setdefault(kind, []).append(component)
    return found


def _listings(plan: Plan, count: int) -> Iterator[Answer]:
    """Suppliers' lists, each part in turn; prices drift by a few in a hundred."""
    chance = plan.chance("listings")
    parts = list(Part.objects.order_by("pk").values_list("pk", flat=True))
    for at in range(count):
        turn, spot = divmod(at, len(parts))
        base = 500 + spot * 7919 % 40_000
        ordered = at % 12 == 0
        yield _said(
            plan,
            plan.day(chance),
            part_id=parts[spot],
            route="supplier",
            party=SUPPLIERS[(spot + turn) % len(SUPPLIERS)],
            status="supported" if ordered else chance.choice(LISTED),
            channel="order" if ordered else "listing",
            given_by="our own order" if ordered else "price list",
            cost=Decimal(base * chance.randrange(95, 106)).scaleb(-4),
            lead_days=chance.randrange(2, 30),
        )


def _said(plan: Plan, day: date, **said) -> Answer:
    if said["status"] == "back-ordered":
        said["until"] = day + timedelta(days=30)
    return Answer(given_on=day, recorded_at=noon(day), recorded_by=plan.by, **said)
