import uuid
from decimal import Decimal

import pytest

from shop.work.models import CameAlong, EstimateLine, Notice
from shop.work.services import (
    add_time,
    close_job,
    make_estimate,
    offer_estimate,
    put_back_part,
    start_work,
    take_part,
)
from shop.work.services.bench import Bench
from shop.work.services.closing import missing_for_repair
from shop.work.services.closing_facts import Ending
from shop.work.services.errors import JobError, UndoneError
from tests.factories.parts import PartFactory
from tests.factories.shop import StayFactory
from tests.factories.units import (
    TODAY,
    ComponentFactory,
    KindFactory,
    MachineModelFactory,
    ProtocolStepFactory,
)
from tests.shop.work.bench import (
    a_belt,
    a_job,
    an_own_job,
    estimated,
    in_work,
    later,
    looked_at,
    said,
    stocked,
)
from units.inspections.models import Clearance
from units.inspections.selectors import standing_findings

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("rules")]


def taken(job, part, by, at=None):
    at = at or later(10)
    return take_part(job=job, part=part, quantity=Decimal(1), key=uuid.uuid4(), by=by, at=at)


def timed(job, by, at, minutes=60):
    return add_time(job=job, minutes=minutes, worked_on=TODAY, key=uuid.uuid4(), by=by, at=at)


def closed(job, by, outcome="repaired", at=None, **other):
    words = {"safety_key": "here"} | other
    return close_job(job=job, ending=Ending(outcome, **words), by=by, at=at or later(90))


@pytest.fixture
def job(technician):
    return a_job()


@pytest.fixture
def repaired(job, technician):
    """All that "repaired" needs, but for the closing itself."""
    taken(job, in_work(job, technician), technician)
    timed(job, technician, later(60))
    looked_at(job, technician, later(70), occasion="final")
    return job


def sentences(error):
    return error.value.sentences


def test_a_repaired_job_is_closed_after_its_test(repaired, technician):
    job = closed(repaired, technician)
    assert (job.state, job.outcome) == ("closed", "repaired")
    assert [step.to_state for step in job.steps.all()][-2:] == ["in-work", "closed"]


def test_closing_clears_what_was_put_right(repaired, technician):
    assert standing_findings([repaired.unit])[repaired.unit_id] == []
    assert not Clearance.objects.exists()


def test_a_fault_that_the_test_did_not_look_at_is_cleared_by_the_work(job, technician):
    taken(job, in_work(job, technician), technician)
    timed(job, technician, later(60))
    looked_at(job, technician, later(70), occasion="final", fan="sound")
    closed(job, technician)
    assert Clearance.objects.get().document == job.number
    assert standing_findings([job.unit])[job.unit_id] == []


def test_a_job_only_begun_hears_all_that_is_missing(job, technician):
    in_work(job, technician)
    with pytest.raises(UndoneError) as error:
        closed(job, technician, safety_key="")
    belt = EstimateLine.objects.get(line_class="part").description
    assert sentences(error) == [
        f"Not taken from the shelf: {belt}. Take it, or say why not.",
        "No time is written. Write the minutes worked.",
        "No final test was made.",
        "Found, and no work done about it: running belt.",
        "Say where the safety key is.",
    ]
    job.refresh_from_db()
    assert job.state == "in-work"


def test_a_part_after_the_final_test_asks_for_another(repaired, technician):
    screw = PartFactory(component=ComponentFactory(slug="fan"))
    stocked(screw, cost="1")
    taken(repaired, screw, technician, later(75))
    with pytest.raises(UndoneError, match="Test again"):
        closed(repaired, technician)


def test_a_part_put_back_after_the_final_test_asks_for_another(repaired, technician):
    use = repaired.part_uses.get()
    put_back_part(use=use, by=technician, at=later(75))
    with pytest.raises(UndoneError, match="Test again"):
        closed(repaired, technician)


def test_time_after_the_final_test_asks_for_another(repaired, technician):
    timed(repaired, technician, later(75))
    with pytest.raises(UndoneError, match="Test again"):
        closed(repaired, technician)


def test_a_failed_final_test_is_not_passed(job, technician):
    taken(job, in_work(job, technician), technician)
    timed(job, technician, later(60))
    looked_at(job, technician, later(70), occasion="final", running_belt="glazed")
    with pytest.raises(UndoneError, match="was not passed"):
        closed(job, technician)


def test_a_standing_hold_forbids_repaired(repaired, technician, owner):
    looked_at(repaired, technician, later(75), frame="cracked")
    with pytest.raises(UndoneError, match="holds the machine and is not put right: frame"):
        closed(repaired, owner, waiver="the customer is in a hurry")


def test_a_line_not_used_needs_a_reason(job, technician):
    in_work(job, technician)
    line = EstimateLine.objects.get(line_class="part")
    timed(job, technician, later(60))
    looked_at(job, technician, later(70), occasion="final")
    with pytest.raises(UndoneError, match="Take it, or say why not"):
        closed(job, technician)
    job = closed(job, technician, not_used={line.pk: "the belt could be cleaned"})
    assert job.steps.last().note == "the belt could be cleaned"


def test_only_the_owner_waives_what_is_missing(job, technician, owner):
    belt = in_work(job, technician)
    taken(job, belt, technician)
    looked_at(job, technician, later(70), occasion="final")
    with pytest.raises(JobError, match="Only the owner"):
        closed(job, technician, waiver="forgot to write it")
    job = closed(job, owner, waiver="forgot to write it")
    assert job.steps.last().note == (
        "waived by the owner: forgot to write it (No time is written. Write the minutes worked.)"
    )


def test_time_beyond_the_yes_is_asked_about_before_closing(repaired, technician):
    estimate = repaired.estimates.get()
    estimate.offered_at = estimate.offered_by = None
    estimate.save()
    estimate.lines.filter(line_class="labour").delete()
    timed(repaired, technician, later(71), 240)
    looked_at(repaired, technician, later(80), occasion="final")
    with pytest.raises(UndoneError, match=r"comes to \$520.00 before tax"):
        closed(repaired, technician)


def test_a_new_safety_key_goes_with_the_machine(repaired, technician):
    closed(repaired, technician, safety_key="new")
    assert CameAlong.objects.get().thing == "safety-key"


def test_a_key_that_the_customer_kept_is_noted(repaired, technician):
    job = closed(repaired, technician, safety_key="kept")
    assert job.steps.last().note == "the customer kept the safety key"
    assert not CameAlong.objects.exists()


def test_a_rower_is_not_asked_for_a_safety_key(technician):
    model = MachineModelFactory(kind=KindFactory(slug="rower"))
    stay = StayFactory(unit__model=model)
    job = a_job(stay=stay)
    looked_at(job, technician)
    timed(job, technician, later(5))
    assert closed(job, technician, "no-fault", safety_key="").outcome == "no-fault"


def test_no_fault_needs_an_inspection_that_found_none(job, technician):
    timed(job, technician, later(5))
    with pytest.raises(UndoneError, match="No finished inspection"):
        closed(job, technician, "no-fault")
    looked_at(job, technician, later(6), fan="odd")
    with pytest.raises(UndoneError, match="did find faults: fan"):
        closed(job, technician, "no-fault")


def test_declined_needs_a_no(job, technician, clerk):
    a_belt(job)
    looked_at(job, technician, running_belt="glazed")
    estimate = estimated(job, technician)
    with pytest.raises(UndoneError, match="Nobody said no"):
        closed(job, technician, "declined", notice="Leaves unrepaired.")
    said(estimate, clerk, yes=False)
    job = closed(job, technician, "declined", notice="Leaves unrepaired.")
    assert (job.outcome, job.notice.text) == ("declined", "Leaves unrepaired.")


def test_an_unsafe_machine_may_leave_from_the_first_look_on(job, technician):
    looked_at(job, technician, frame="cracked")
    job = closed(job, technician, "unsafe", notice="Do not use it.")
    assert job.notice.written_by == technician


def test_unsafe_is_never_closed_without_a_notice(job, technician):
    with pytest.raises(UndoneError, match="Write the notice"):
        closed(job, technician, "unsafe", notice=" ")
    assert not Notice.objects.exists()


def test_a_repaired_job_keeps_no_notice(repaired, technician):
    closed(repaired, technician, notice="left over from another choice")
    assert not Notice.objects.exists()


def test_the_second_tab_hears_who_closed_the_job_and_when(repaired, technician, clerk):
    closed(repaired, technician)
    with pytest.raises(JobError, match=r"is closed: Kim Hale, 5 Oct 2026, 10:30"):
        closed(repaired, clerk, "unsafe", at=later(91), notice="Do not use it.")
    repaired.refresh_from_db()
    assert repaired.outcome == "repaired"
    assert repaired.steps.filter(to_state="closed").count() == 1


def test_work_on_our_own_machine_cannot_be_declined(owner):
    job = an_own_job()
    in_work(job, owner)
    with pytest.raises(JobError):
        closed(job, owner, "declined", notice="x")


def test_what_is_missing_is_told_before_anybody_closes(repaired, job, technician):
    assert missing_for_repair(Bench(repaired), TODAY) == []
    assert missing_for_repair(Bench(a_job()), TODAY) == [
        "No time is written. Write the minutes worked.",
        "No final test was made.",
    ]


def test_a_part_put_in_is_a_repair_and_no_fault_found_cannot_spare_its_test(job, technician):
    """A later look finds the new belt sound: without the part's own word nothing would stand."""
    use = taken(job, in_work(job, technician), technician)
    timed(job, technician, later(20))
    looked_at(job, technician, later(30), occasion="repair")
    with pytest.raises(UndoneError, match="Parts were put in, so a fault was found"):
        closed(job, technician, "no-fault")
    put_back_part(use=use, by=technician, at=later(35))
    assert closed(job, technician, "no-fault").outcome == "no-fault"


def test_work_agreed_after_the_final_test_is_tested_before_closing(repaired, technician, clerk):
    """A second version adds the fan; no part, no minute comes after the test."""
    test = repaired.inspections.get(inspection__protocol__occasion="final").inspection
    assert test.asked == ["running-belt"]
    ProtocolStepFactory(
        protocol=test.protocol, key="fan", title="Run the fan", component_id="fan", after=["fan"]
    )
    estimate = make_estimate(job=repaired, by=technician, at=later(75))
    said_fan = {"line_class": "labour", "description": "fan", "component_id": "fan", "minutes": 5}
    money = {"quantity": Decimal(1), "unit_price": Decimal(9), "net": Decimal(9)}
    estimate.lines.create(position=9, **said_fan, **money)
    estimate = offer_estimate(estimate=estimate, by=technician, at=later(76))
    said(estimate, clerk, at=later(77))
    start_work(job=repaired, by=technician, at=later(78))
    with pytest.raises(UndoneError, match="left out what was agreed since: Run the fan"):
        closed(repaired, technician)
    looked_at(repaired, technician, later(80), occasion="final", running_belt="clean", fan="sound")
    assert closed(repaired, technician, at=later(95)).outcome == "repaired"
