"""A job on the bench, carried as far as a test needs it, through the services themselves."""

from datetime import timedelta
from decimal import Decimal

from parts.stock.services import receive_stock
from shop.people.seats import seats_of
from shop.work.services import (
    answer_estimate,
    inspect_job,
    make_estimate,
    offer_estimate,
    start_work,
)
from tests.factories.parts import BinFactory, FitFactory, PartFactory
from tests.factories.shop import LabourRateFactory, MarkUpFactory, StayFactory, WorkOrderFactory
from tests.factories.units import (
    MORNING,
    TODAY,
    ComponentFactory,
    PersonFactory,
    ProtocolFactory,
    ProtocolStepFactory,
)
from units.inspections.models import Protocol
from units.inspections.services import finish_inspection, record_result

CONDITIONS = {
    "running-belt": ["clean", "glazed"],
    "deck": ["smooth", "grooved"],
    "frame": ["sound", "cracked"],
    "fan": ["sound", "odd"],
}


def later(minutes: int):
    return MORNING + timedelta(minutes=minutes)


def shop_rules():
    """80 an hour, which costs 30; parts at one and a half times their cost."""
    LabourRateFactory()
    MarkUpFactory()


def a_job(**other):
    return WorkOrderFactory(**other)


def an_own_job():
    return WorkOrderFactory(purpose="own", stay=StayFactory(owner=None, came="purchase"))


def looked_at(job, by, at=MORNING, occasion="arrival", **found):
    """Finish an inspection of a job: ``deck="grooved"``; a name not given was found sound."""
    protocol = ProtocolFactory(
        kind=job.unit.model.kind, occasion=occasion, version=Protocol.objects.count() + 1
    )
    found = {name.replace("_", "-"): condition for name, condition in found.items()}
    for component in found or ["running-belt"]:
        sound, bad = CONDITIONS[component]
        ProtocolStepFactory(
            protocol=protocol,
            key=component,
            component=ComponentFactory(slug=component),
            holds=component == "frame",
            conditions=[
                {"condition": sound, "label": sound, "passes": True},
                {"condition": bad, "label": bad, "passes": False},
            ],
        )
    inspection = inspect_job(job=job, occasion=occasion, by=by, at=at)
    for step in protocol.steps.all():
        condition = found.get(step.component_id, CONDITIONS[step.component_id][0])
        answer = {"condition": condition}
        if condition == "not-possible":
            answer = {"outcome": condition, "reason": "no room to walk on it"}
        record_result(inspection=inspection, step=step, **answer, by=by, at=at)
    return finish_inspection(inspection=inspection, by=by, at=at)


def a_belt(job, on_hand="1", cost="80"):
    """A running belt that fits the job's machine and lies on the shelf."""
    part = PartFactory(component=ComponentFactory(slug="running-belt"))
    FitFactory(part=part, model=job.unit.model)
    stocked(part, on_hand, cost)
    return part


def stocked(part, quantity="1", cost="80"):
    if Decimal(quantity):
        receive_stock(
            part=part,
            bin=BinFactory(),
            quantity=Decimal(quantity),
            unit_cost=Decimal(cost),
            on=TODAY,
            document="D00001",
            by=PersonFactory(),
            at=MORNING,
        )


def estimated(job, by, at=MORNING):
    """A belt estimate offered: belt 120 and an hour's labour 80."""
    estimate = make_estimate(job=job, by=by, at=at)
    return offer_estimate(estimate=estimate, by=by, at=at)


def at_the_desk(by=None):
    """Whoever may write down an answer, cancel or hand back: ``by``, or a clerk in his stead."""
    if by is not None and {"front desk", "owner"} & set(seats_of(by)):
        return by
    return PersonFactory(first_name="Sam", last_name="Lind", seats=["front desk"])


def said(estimate, by, yes=True, at=MORNING, **other):
    by = at_the_desk(by)
    words = {"given_by": "Dana Mabry", "channel": "phone"} | other
    return answer_estimate(estimate=estimate, yes=yes, **words, by=by, at=at)


def in_work(job, by, at=MORNING, **answer):
    """Looked at, estimated, approved and started; returns the belt. Our own needs the owner."""
    belt = a_belt(job)
    looked_at(job, by, at, running_belt="glazed")
    estimate = estimated(job, by, at)
    if job.purpose == "customer":
        said(estimate, by, at=at, **answer)
    start_work(job=job, by=by, at=at)
    job.refresh_from_db()
    return belt
