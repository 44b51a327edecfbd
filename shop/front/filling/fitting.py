"""Parts, what they fit, what they became, and models that share theirs under two labels."""

from collections import defaultdict
from collections.abc import Iterator
from decimal import Decimal
from itertools import pairwise

from parts.fits.domain.designations import read_standard
from parts.fits.models import Fit, Part, Sister, Supersession
from shop.front.filling.plan import Plan, create, noon
from units.catalogue.domain.keys import match_key
from units.catalogue.models import KindComponent, MachineModel

ELSEWHERE = 0.25  # so many parts fit another model of their maker's too
SUPERSEDED_IN = 100
SISTERS_IN = 50
EVIDENCE = "the maker's parts list"
STANDARD = {
    "crank-bearings": ("6203-2RS", "6004-2RS", "6205-2RS"),
    "drive-belt": ("8PJ1244", "6PJ1168"),
}


def fill_parts(plan: Plan) -> None:
    models = list(MachineModel.objects.order_by("pk").select_related("maker"))
    places = _places()
    create(plan, Part, _parts(plan, models, places))
    parts = list(Part.objects.order_by("pk"))
    create(plan, Fit, _fits(plan, parts, models))
    create(plan, Supersession, _supersessions(plan, parts))
    create(plan, Sister, _sisters(plan, models))


def _places() -> dict[str, list[str]]:
    """The components of each kind, those that wear and those without which it is done first."""
    found = defaultdict(list)
    rows = KindComponent.objects.order_by("kind", "-wears", "-critical", "position")
    for kind, component in rows.values_list("kind_id", "component_id"):
        found[kind].append(component)
    return found


def _parts(plan: Plan, models, places) -> Iterator[Part]:
    """Each model in turn gets one part, then each a second one, for the next component."""
    for at in range(plan.parts):
        model, turn = models[at % len(models)], at // len(models)
        components = places[model.kind_id]
        component = components[turn % len(components)]
        number = f"{model.maker.name[:2].upper()}-{100_000 + at}"
        yield Part(
            maker_id=model.maker_id,
            number=number,
            key=match_key(number),
            name=component.replace("-", " "),
            component_id=component,
            **_standard(component, at),
        )


def _standard(component: str, at: int) -> dict[str, str]:
    spelled = STANDARD.get(component)
    if not spelled or at % 3:
        return {}
    standard = read_standard(spelled[at % len(spelled)])
    return {"designation": standard.designation, "sort": standard.sort}


def _fits(plan: Plan, parts, models) -> Iterator[Fit]:
    chance = plan.chance("fits")
    alike = defaultdict(list)
    for model in models:
        alike[model.maker_id, model.kind_id].append(model)
    for at, part in enumerate(parts):
        model = models[at % len(models)]
        yield _fit(plan, part, model)
        if chance.random() < ELSEWHERE:
            other = chance.choice(alike[model.maker_id, model.kind_id])
            if other != model:
                yield _fit(plan, part, other)


def _fit(plan: Plan, part: Part, model: MachineModel) -> Fit:
    return Fit(
        part=part,
        model=model,
        quantity=Decimal(1),
        evidence=EVIDENCE,
        recorded_at=noon(plan.on),
        recorded_by=plan.by,
    )


def _supersessions(plan: Plan, parts) -> Iterator[Supersession]:
    """Chains of three numbers: always to a later one, so that none bites its tail."""
    chance = plan.chance("supersessions")
    for at in range(0, len(parts) - 2, SUPERSEDED_IN):
        for part, other in pairwise(parts[at : at + 3]):
            day = plan.day(chance)
            yield Supersession(
                part=part,
                replaced_by=other,
                on=day,
                evidence=EVIDENCE,
                recorded_at=noon(day),
                recorded_by=plan.by,
            )


def _sisters(plan: Plan, models) -> Iterator[Sister]:
    """Models of the same kind that two makers sell; those of one kind come in runs."""
    for at in range(0, len(models) - 1, SISTERS_IN):
        model, other = models[at], models[at + 1]
        if model.kind_id == other.kind_id:
            yield Sister(
                model=model,
                other=other,
                evidence=EVIDENCE,
                recorded_at=noon(plan.on),
                recorded_by=plan.by,
            )
