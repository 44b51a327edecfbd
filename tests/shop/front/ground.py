"""Machines, jobs, answers and invoices in any number, for pages that must not slow down."""

import uuid
from datetime import UTC, datetime, timedelta
from decimal import Decimal

from django.utils import timezone

from shop.till.models import Invoice, Payment
from shop.work.models import Approval, Estimate, EstimateLine, JobInspection
from tests.factories.parts import AnswerFactory, FitFactory, PartFactory
from tests.factories.shop import CustomerFactory, StayFactory, WorkOrderFactory
from tests.factories.units import (
    ComponentFactory,
    InspectionFactory,
    MachineModelFactory,
    MakerFactory,
    PersonFactory,
    PlateRecordFactory,
    ProtocolFactory,
    ProtocolStepFactory,
    RecallCheckFactory,
    UnitFactory,
)
from units.catalogue.models import Unit, UnitPhoto
from units.inspections.models import Finding, StepResult
from units.rows.services import next_number


def days_before_today(days: int):
    return timezone.localdate() - timedelta(days)


def noon(day) -> datetime:
    return datetime(day.year, day.month, day.day, 12, tzinfo=UTC)


def machine(serial="CV000123", number="TR-90", **model) -> Unit:
    maker = MakerFactory(name="Corvane")
    key = number.upper().replace("-", "")
    models = MachineModelFactory._meta.model.objects.filter(maker=maker, key=key)
    found = models.first() or MachineModelFactory(maker=maker, number=number, **model)
    return UnitFactory(model=found, serial=serial)


def customers_job(serial="CV000123", days=2, owner=None, **job):
    """A customer's machine that came ``days`` ago, with its job."""
    day = days_before_today(days)
    stay = StayFactory(
        unit=machine(serial), owner=owner or CustomerFactory(name="Ann Bell"), came_on=day
    )
    return WorkOrderFactory(
        stay=stay, opened_on=day, opened_at=noon(day), state_since=noon(day), **job
    )


def our_machine(serial="CV000777", days=2):
    return StayFactory(
        unit=machine(serial), owner=None, came="purchase", came_on=days_before_today(days)
    )


def invoice(days=3, total="192.00", paid="0", customer=None) -> Invoice:
    number, day = f"R{next_number('test-invoice'):05}", days_before_today(days)
    by = PersonFactory()
    bill = Invoice.objects.create(
        number=number, key=number, customer=customer or CustomerFactory(name="Ann Bell"),
        issued_on=day, net=Decimal(total), tax=Decimal(0), total=Decimal(total),
        issued_at=noon(day), issued_by=by,
    )  # fmt: skip
    if Decimal(paid):
        Payment.objects.create(
            number=number.replace("R", "P"), key=uuid.uuid4(), invoice=bill, method="cash",
            amount=Decimal(paid), paid_on=day, recorded_at=noon(day), recorded_by=by,
        )  # fmt: skip
    return bill


def inspected(unit, job=None, condition="glazed", holds=False) -> Finding:
    """A finished inspection of the machine that found its running belt so."""
    day = noon(days_before_today(1))
    by = PersonFactory()
    protocol = ProtocolFactory._meta.model.objects.filter(kind=unit.model.kind).first()
    protocol = protocol or ProtocolFactory(kind=unit.model.kind)
    step = protocol.steps.first() or ProtocolStepFactory(
        protocol=protocol, component=ComponentFactory(slug="running-belt"), holds=holds
    )
    inspection = InspectionFactory(unit=unit, protocol=protocol)
    result = StepResult.objects.create(
        inspection=inspection, step=step, outcome="fail", condition=condition,
        recorded_at=day, recorded_by=by,
    )  # fmt: skip
    inspection.finished_at, inspection.finished_by = day, by
    inspection.save()
    if job:
        JobInspection.objects.create(job=job, inspection=inspection)
    return Finding.objects.create(
        unit=unit, result=result, component=step.component, condition=condition,
        passes=False, holds=holds, found_at=day,
    )  # fmt: skip


def approved(job):
    """A yes to an estimate of one part that nobody has on the shelf."""
    estimate = Estimate.objects.create(
        job=job, version=1, made_at=job.opened_at, made_by=job.opened_by
    )
    EstimateLine.objects.create(
        estimate=estimate, position=1, line_class="part", description="running belt",
        part=PartFactory(maker=job.unit.model.maker), quantity=Decimal(1),
        unit_price=Decimal("120.00"), net=Decimal("120.00"),
    )  # fmt: skip
    Approval.objects.create(
        estimate=estimate, yes=True, given_by="Ann Bell", channel="phone",
        up_to=Decimal("120.00"), given_at=job.opened_at, recorded_by=job.opened_by,
    )  # fmt: skip
    job.state = "approved"
    job.save()


def fill(times: int):
    """A shop that grew: ``times`` of everything a page may show."""
    for at in range(times):
        serial = f"FILL{next_number('test-serial'):05}"
        job = customers_job(serial=serial, days=3 + at, owner=CustomerFactory())
        inspected(job.unit, job)
        approved(customers_job(serial=f"{serial}Y", days=5 + at, owner=job.owner))
        PlateRecordFactory(unit=job.unit)
        RecallCheckFactory(unit=job.unit)
        ours = our_machine(serial=f"{serial}X", days=4 + at)
        UnitPhoto.objects.create(
            unit=ours.unit, file=PlateRecordFactory(unit=ours.unit).photo, shows="sale",
            taken_at=noon(ours.came_on), taken_by=ours.came_by,
        )  # fmt: skip
        typed = MachineModelFactory(number=f"TYPED-{serial}", confirmed=False)
        StayFactory(unit=UnitFactory(model=typed), came_on=days_before_today(1))
        AnswerFactory(model=job.unit.model, given_on=days_before_today(400 + at))
        FitFactory(model=job.unit.model, part=PartFactory(maker=job.unit.model.maker))
        invoice(days=40 + at, customer=job.owner)
