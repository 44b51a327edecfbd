"""Models of every kind and grade, two machines of each, and a tenth of these our own."""

from collections.abc import Iterator
from datetime import timedelta
from decimal import Decimal

from shop.floor.models import Stay
from shop.front.filling.plan import MAKERS, Plan, create, noon
from units.catalogue.domain.keys import match_key
from units.catalogue.models import Kind, MachineModel, Maker, Unit

UNITS_A_MODEL = 2
OURS_IN = 10
GRADES = tuple(MachineModel.Grade)


def fill_machines(plan: Plan) -> None:
    makers = [
        Maker.objects.get_or_create(key=match_key(name), defaults={"name": name})[0]
        for name in MAKERS
    ]
    kinds = list(Kind.objects.order_by("position"))
    create(plan, MachineModel, _models(plan, makers, kinds))
    models = list(MachineModel.objects.order_by("pk"))
    create(plan, Unit, _units(plan, models))
    ours = list(Unit.objects.order_by("pk"))[::OURS_IN]
    create(plan, Stay, _stays(plan, ours))


def _models(plan: Plan, makers: list[Maker], kinds: list[Kind]) -> Iterator[MachineModel]:
    chance = plan.chance("models")
    for at in range(plan.models):
        maker, kind = makers[at % len(makers)], kinds[at // len(makers) % len(kinds)]
        number = f"{maker.name[0]}{kind.slug[0].upper()}-{1000 + at}"
        yield MachineModel(
            maker=maker,
            number=number,
            key=match_key(number),
            kind=kind,
            grade=chance.choice(GRADES),
            volts=120 if kind.has_cord else None,
            hertz=60 if kind.has_cord else None,
            plug="5-15" if kind.has_cord else "",
            mass=Decimal(chance.randrange(300, 1800)).scaleb(-1),
            confirmed=True,
        )


def _units(plan: Plan, models: list[MachineModel]) -> Iterator[Unit]:
    chance = plan.chance("units")
    for at in range(len(models) * UNITS_A_MODEL):
        model = models[at % len(models)]
        serial = f"{model.number[:2]}{at:07}"
        yield Unit(
            maker_id=model.maker_id,
            model=model,
            serial=serial,
            serial_key=serial,
            first_seen_at=noon(plan.day(chance)),
            first_seen_by=plan.by,
        )


def _stays(plan: Plan, units: list[Unit]) -> Iterator[Stay]:
    """Machines of our own that stand here, come within the last year."""
    chance = plan.chance("stays")
    for unit in units:
        yield Stay(
            unit=unit,
            came=Stay.Came.PURCHASE,
            came_on=plan.on - timedelta(days=chance.randrange(365)),
            came_by=plan.by,
        )
