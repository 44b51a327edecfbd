"""How far a shop has come before a browser opens: carried there through the services.

Each is called in a process of its own: ``states(shop, "job_in_work")``.
"""

import uuid
from datetime import timedelta
from decimal import Decimal

from django.contrib.auth.models import User
from django.utils import timezone

from parts.fits.services import add_fit, add_part
from parts.stock.services import find_or_add_bin, receive_stock
from shop.people.models import Customer
from shop.people.services import save_customer
from shop.till.domain.pricing import Line
from shop.till.services import add_labour_rate, add_mark_up, issue_invoice
from shop.work.models import Estimate, WorkOrder
from shop.work.services import (
    Ending,
    Errand,
    Leaving,
    Machine,
    Person,
    Wanted,
    add_line,
    add_time,
    answer_estimate,
    buy_machine,
    cancel_job,
    close_job,
    hand_back,
    inspect_job,
    log_in,
    make_estimate,
    offer_estimate,
    start_work,
    take_part,
)
from units.catalogue.models import Component, Kind, Maker
from units.inspections.models import Inspection
from units.inspections.services import finish_inspection, record_result

CUSTOMER, SERIAL, PART = "Ines Okafell", "KR26-00031", "KE-77"


def states(shop, *names: str) -> None:
    """Bring a served shop into these states, one after another."""
    calls = "\n".join(f"states.{name}()" for name in names)
    shop.database.python(f"from tests.browser import states\n{calls}\n")


def person(seat: str) -> User:
    return User.objects.get(username=seat.replace(" ", "-"))


def act(seat: str, ago: int = 0) -> dict:
    """Who does it, and when: so many days ago."""
    return {"by": person(seat), "at": timezone.now() - timedelta(days=ago)}


def day(ago: int = 0):
    return timezone.localdate() - timedelta(days=ago)


def rates() -> None:
    from_on = day(400)
    add_labour_rate(price_per_hour=Decimal(80), cost_per_hour=Decimal(30), from_on=from_on)
    add_mark_up(cost_from=Decimal(0), factor=Decimal("1.5"), from_on=from_on)


def known_customer() -> Customer:
    return save_customer(
        name=CUSTOMER,
        sort=Customer.Sort.PERSON,
        phone="202 555 0104",
        email="",
        note="",
        known_since=timezone.localdate(),
    )


def job_logged(ago: int = 0) -> WorkOrder:
    """A rower: the shortest protocol, and no safety key."""
    return log_in(
        person=Person(known=known_customer()),
        machine=Machine("Kestrow", "R-40", SERIAL, Kind.objects.get(slug="rower")),
        errand=Errand(complaint="The cord comes home slowly."),
        key=uuid.uuid4(),
        **act("front desk", ago),
    )


def job_drafted(ago: int = 0) -> Estimate:
    """One return cord at 45 stands on a draft. Three lie on the shelf."""
    rates()
    job = job_logged(ago)
    component = Component.objects.get(slug="return-cord")
    maker = Maker.objects.get(name="Kestrow")
    part = add_part(maker=maker, number=PART, name="return cord", component=component)
    add_fit(
        part=part,
        model=job.unit.model,
        quantity=Decimal(1),
        evidence="maker's parts list",
        **act("technician", ago),
    )
    receive_stock(
        part=part,
        bin=find_or_add_bin(name="A1"),
        quantity=Decimal(3),
        unit_cost=Decimal(30),
        on=day(ago),
        document="D00001",
        **act("technician", ago),
    )
    estimate = make_estimate(job=job, **act("technician", ago))
    wanted = Wanted("part", "return cord", part=part, component=component, unit_price=Decimal(45))
    add_line(estimate=estimate, wanted=wanted, on=day(ago))
    return estimate


def job_approved(ago: int = 0) -> WorkOrder:
    estimate = offer_estimate(estimate=job_drafted(ago), **act("technician", ago))
    answer_estimate(
        estimate=estimate, yes=True, given_by=CUSTOMER, channel="phone", **act("front desk", ago)
    )
    return WorkOrder.objects.get()


def job_in_work(ago: int = 0) -> WorkOrder:
    """Agreed, and the work has begun."""
    return start_work(job=job_approved(ago), **act("technician", ago))


def job_to_close(ago: int = 0) -> WorkOrder:
    """All that a repaired rower needs is there; only the closing is left."""
    job = job_in_work(ago)
    line = job.estimates.get().lines.get()
    take_part(
        job=job,
        part=line.part,
        quantity=Decimal(1),
        line=line,
        key=uuid.uuid4(),
        **act("technician", ago),
    )
    add_time(
        job=job,
        minutes=2,
        worked_on=day(ago),
        key=uuid.uuid4(),
        **act("technician", ago),
    )
    inspected(inspect_job(job=job, occasion="final", **act("technician", ago)), ago)
    return job


def job_closed(ago: int = 0) -> WorkOrder:
    return close_job(job=job_to_close(ago), ending=Ending("repaired"), **act("technician", ago))


def job_left_standing() -> None:
    """Finished 40 days ago, and nobody asked its owner to collect it."""
    job_closed(40)


def job_handed_back() -> None:
    """Repaired and back at its owner's for 20 days."""
    leaving = Leaving(taken_by=CUSTOMER)
    hand_back(job=job_closed(20), leaving=leaving, **act("front desk", 20))


def inspected(inspection: Inspection, ago: int = 0) -> Inspection:
    """Every step answered by its first, sound answer."""
    for step in inspection.protocol.steps.all():
        sound = step.conditions[0]["condition"]
        record_result(inspection=inspection, step=step, condition=sound, **act("technician", ago))
    return finish_inspection(inspection=inspection, **act("technician", ago))


def invoice_open() -> None:
    """Invoice R00001 over 200, nothing paid."""
    issue_invoice(
        customer=known_customer(),
        lines=[Line("labour", "diagnosis", Decimal(1), Decimal(200))],
        document="",
        key=str(uuid.uuid4()),
        on=timezone.localdate(),
        **act("front desk"),
    )


def machines_diagnosed() -> None:
    """Six rowers of our own, bought at 90, with a dry chain and no job: stays 1 to 6."""
    rates()
    for number in range(1, 7):
        stay = buy_machine(
            seller=Person(known=Customer.objects.first() or known_customer()),
            machine=Machine(
                "Kestrow", "R-40", f"KR26-0010{number}", Kind.objects.get(slug="rower")
            ),
            price=Decimal(90),
            key=uuid.uuid4(),
            **act("owner"),
        )
        job = stay.jobs.get()
        found = inspect_job(job=job, occasion="arrival", **act("technician"))
        for step in found.protocol.steps.all():
            sound = step.conditions[0]["condition"]
            condition = "dry" if step.title == "Chain or cord" else sound
            record_result(inspection=found, step=step, condition=condition, **act("technician"))
        finish_inspection(inspection=found, **act("technician"))
        cancel_job(job=job, reason="not worth the work", left=False, **act("owner"))
