"""What stands before the story begins: the shop's name and rates, models, parts, customers."""

from decimal import Decimal

from parts.buying.services import add_supplier, record_price
from parts.fits.models import Fit, Part
from parts.fits.services import add_fit, add_part
from shop.front.demo.story import FIRST, Story, rows, table
from shop.people.models import Customer
from shop.people.services import save_customer, save_profile
from shop.resale.services import set_holding
from shop.till.services import add_labour_rate, add_mark_up, add_tax_rate
from shop.work.services.left_standing import set_storage_rule
from shop.work.services.promising import set_bench_hours
from units.catalogue.models import Component, Kind, KindComponent, MachineModel
from units.catalogue.services import ModelFacts, find_or_add_maker, find_or_add_model, save_model

GRADE_FACTOR = {"residential": Decimal("0.8"), "light": Decimal(1), "commercial": Decimal("1.4")}


def open_shop(story: Story) -> None:
    """The name on the papers, the tax, the hour and the mark-up: all invented."""
    shop = table("shop.toml")
    save_profile(**shop["profile"])
    start = story.day(FIRST + 30)
    for tax in shop["taxes"]:
        add_tax_rate(
            jurisdiction=tax["jurisdiction"],
            line_classes=tax["on"],
            percent=Decimal(tax["percent"]),
            from_on=start,
        )
    labour = shop["labour"]
    add_labour_rate(
        price_per_hour=Decimal(labour["price"]),
        cost_per_hour=Decimal(labour["cost"]),
        from_on=start,
    )
    for step in shop["mark_ups"]:
        add_mark_up(
            cost_from=Decimal(step["cost_from"]), factor=Decimal(step["factor"]), from_on=start
        )
    set_bench_hours(technician=story.bench, minutes_a_week=30 * 60, from_on=start)
    set_storage_rule(days_free=30, per_day=Decimal(2), from_on=start)
    held = table("floor.toml")["held_days"]
    set_holding(days=held, from_on=start, by=story.owner, at=story.at(FIRST, 8))


def add_customers(story: Story) -> list[Customer]:
    return [
        save_customer(
            name=row["name"],
            sort=row["sort"],
            phone=row["phone"],
            email="",
            note="",
            known_since=story.day(FIRST),
        )
        for row in rows("customers.csv")
    ]


def add_models() -> list[MachineModel]:
    """Eight models of each kind, confirmed, with their supply and mass."""
    kinds = {kind.slug: kind for kind in Kind.objects.all()}
    return [_model(row, kinds[row["kind"]]) for row in rows("models.csv")]


def _model(row: dict[str, str], kind: Kind) -> MachineModel:
    maker = find_or_add_maker(name=row["maker"])
    model = find_or_add_model(maker=maker, number=row["number"], kind=kind)
    facts = ModelFacts(
        number=row["number"],
        kind=kind,
        name=row["name"],
        grade=row["grade"],
        volts=int(row["volts"]) if row["volts"] else None,
        hertz=int(row["hertz"]) if row["hertz"] else None,
        amps=Decimal(row["amps"]) if row["amps"] else None,
        plug=row["plug"],
        mass=Decimal(row["mass"]),
    )
    return save_model(model=model, facts=facts)


def add_parts(story: Story, models: list[MachineModel]) -> None:
    """Parts of what wears and of what is critical, each with its maker's price."""
    components = {component.slug: component for component in Component.objects.all()}
    by_kind = {}
    for row in KindComponent.objects.all():
        by_kind.setdefault(row.kind_id, []).append(row.component_id)
    for index, model in enumerate(models):
        supplier = add_supplier(name=f"{model.maker} parts desk", phone="+1 202 555 0190")
        for number, row in enumerate(rows("parts.csv")):
            if row["component"] not in by_kind[model.kind_id]:
                continue
            part = add_part(
                maker=model.maker,
                number=f"{model.maker.name[:2].upper()}-{index + 11}{number + 101}",
                name=f"{row['name']}, {model.number}",
                component=components[row["component"]],
            )
            _fit_and_price(story, part, model, supplier, row)


def _fit_and_price(story: Story, part: Part, model, supplier, row) -> Fit:
    at = story.at(FIRST - 1, 9)
    cost = Decimal(row["cost"]) * GRADE_FACTOR[model.grade]
    record_price(
        supplier=supplier,
        part=part,
        cost=cost.quantize(Decimal("0.01")),
        lead_days=int(row["lead_days"]),
        given_on=story.day(FIRST - 1),
        by=story.owner,
        at=at,
    )
    return add_fit(
        part=part,
        model=model,
        quantity=Decimal(1),
        evidence="maker's parts list",
        by=story.owner,
        at=at,
    )


def commercial_models() -> list[MachineModel]:
    return list(MachineModel.objects.filter(grade="commercial").order_by("pk"))
