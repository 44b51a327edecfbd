import uuid
from decimal import Decimal

import pytest

from parts.fits.models import Fit
from parts.stock.selectors import on_hand
from parts.stock.services import NotEnoughStockError, StockError
from shop.floor.selectors import costs_so_far
from shop.work.models import EstimateLine, PartUse
from shop.work.services import (
    close_job,
    make_estimate,
    offer_estimate,
    put_back_part,
    start_work,
    take_part,
)
from shop.work.services.agreed import unasked
from shop.work.services.bench import Bench
from shop.work.services.closing_facts import Ending
from shop.work.services.errors import JobError, OverLimitError
from tests.factories.parts import PartFactory
from tests.factories.units import ComponentFactory, MachineModelFactory
from tests.shop.work.bench import a_job, an_own_job, in_work, later, said, stocked

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("rules")]


def taken(job, part, by, quantity="1", **other):
    words = {"key": uuid.uuid4(), "at": later(10)} | other
    return take_part(job=job, part=part, quantity=Decimal(quantity), by=by, **words)


@pytest.fixture
def job(technician):
    return a_job()


@pytest.fixture
def belt(job, technician):
    return in_work(job, technician)


def test_a_part_for_a_line_is_charged_at_the_agreed_price(job, belt, technician):
    line = EstimateLine.objects.get(line_class="part")
    use = taken(job, belt, technician, line=line)
    assert (use.unit_price, use.quantity, use.line) == (Decimal(120), Decimal(1), line)
    assert (use.move.cost, use.move.document) == (Decimal(-80), job.number)


def test_another_part_is_charged_by_its_cost_and_the_mark_up(job, belt, technician):
    screw = PartFactory(component=ComponentFactory(slug="fan"))
    stocked(screw, "10", "0.25")
    assert taken(job, screw, technician, "4").net == Decimal("1.52")


def test_the_shelf_never_goes_below_zero(job, belt, technician):
    with pytest.raises(NotEnoughStockError):
        taken(job, belt, technician, "2")
    assert on_hand([belt])[belt.pk] == Decimal(1)
    assert not PartUse.objects.exists()


def test_a_double_press_takes_one_part(job, belt, technician):
    stocked(belt, "5")
    key = uuid.uuid4()
    first = taken(job, belt, technician, key=key)
    assert taken(job, belt, technician, key=key) == first
    assert on_hand([belt])[belt.pk] == Decimal(5)


def test_a_part_beyond_the_yes_asks_for_a_new_one(job, belt, technician):
    motor = PartFactory(component=ComponentFactory(slug="drive-motor"))
    stocked(motor, cost="14")  # 21 more, where 200 + 10 % was agreed
    with pytest.raises(OverLimitError, match=r"\$221.00.*\$200.00.*\$220.00"):
        taken(job, motor, technician)
    assert on_hand([motor])[motor.pk] == Decimal(1)


def test_a_part_within_the_allowance_is_taken(job, belt, technician):
    screws = PartFactory(component=ComponentFactory(slug="fan"))
    stocked(screws, cost="13")
    assert taken(job, screws, technician).unit_price == Decimal("19.50")


def test_a_limit_given_on_arrival_has_no_allowance(technician):
    job = a_job(spend_limit=Decimal(205))
    in_work(job, technician, channel="limit")
    screws = PartFactory(component=ComponentFactory(slug="fan"))
    stocked(screws, cost="1")
    with pytest.raises(OverLimitError):
        taken(job, screws, technician)


def test_no_part_is_taken_before_the_work_is_started(technician):
    job = a_job(state="approved")
    with pytest.raises(JobError, match="Start the work first"):
        taken(job, PartFactory(), technician)


def test_no_part_is_taken_for_a_job_that_is_over(technician):
    with pytest.raises(JobError, match="Nothing was changed"):
        taken(a_job(state="cancelled"), PartFactory(), technician)


def test_a_line_of_another_job_is_refused(job, belt, technician):
    other = a_job()
    in_work(other, technician)
    line = EstimateLine.objects.filter(estimate__job=other, line_class="part").get()
    with pytest.raises(JobError, match="another job"):
        taken(job, belt, technician, line=line)


def test_a_part_put_back_is_on_the_shelf_at_its_cost(job, belt, technician):
    use = taken(job, belt, technician)
    back = put_back_part(use=use, by=technician, at=later(20))
    assert (back.quantity, back.cost) == (Decimal(1), Decimal(80))
    assert on_hand([belt])[belt.pk] == Decimal(1)
    assert PartUse.objects.get().put_back


def test_the_second_to_put_back_hears_of_the_first(job, belt, technician):
    use = taken(job, belt, technician)
    put_back_part(use=use, by=technician, at=later(20))
    with pytest.raises(StockError, match="Kim Hale put this back already"):
        put_back_part(use=use, by=technician, at=later(21))
    assert on_hand([belt])[belt.pk] == Decimal(1)


def test_nothing_is_put_back_from_a_closed_job(job, belt, technician):
    use = taken(job, belt, technician)
    ending = Ending("unsafe", safety_key="here", notice="Do not use.")
    close_job(job=job, ending=ending, by=technician, at=later(30))
    with pytest.raises(JobError, match="is closed: Kim Hale"):
        put_back_part(use=use, by=technician, at=later(31))


def fits_of_its_model(job, part):
    fits = Fit.objects.filter(part=part, model=job.unit.model)
    return list(fits.values_list("quantity", "evidence"))


def test_what_a_job_uses_is_written_down_to_fit_its_model(job, belt, technician):
    screws = PartFactory(component=ComponentFactory(slug="fan"))
    stocked(screws, "9", cost="0.25")
    for _time in range(2):
        taken(job, screws, technician, "4")
    assert fits_of_its_model(job, screws) == [(Decimal(4), f"used on job {job.number}")]


def test_a_fit_that_stands_is_left_as_it_is(job, belt, technician):
    before = fits_of_its_model(job, belt)
    taken(job, belt, technician)
    assert fits_of_its_model(job, belt) == before
    assert "used on" not in before[0][1]


def test_a_fit_of_a_name_merged_into_the_model_stands(job, belt, technician):
    other = MachineModelFactory(merged_into=job.unit.model)
    Fit.objects.update(model=other)
    taken(job, belt, technician)
    assert fits_of_its_model(job, belt) == []


def test_what_is_refused_leaves_no_fit(job, belt, technician):
    motor = PartFactory(component=ComponentFactory(slug="drive-motor"))
    stocked(motor, cost="14")
    with pytest.raises(OverLimitError):
        taken(job, motor, technician)
    assert fits_of_its_model(job, motor) == []


def test_a_part_put_back_did_not_show_that_it_fits(job, belt, technician):
    screws = PartFactory(component=ComponentFactory(slug="fan"))
    stocked(screws, "9", cost="0.25")
    uses = [taken(job, screws, technician) for _time in range(2)]
    put_back_part(use=uses[0], by=technician, at=later(20))
    assert len(fits_of_its_model(job, screws)) == 1
    put_back_part(use=uses[1], by=technician, at=later(21))
    assert fits_of_its_model(job, screws) == []


def test_a_part_in_our_own_machine_costs_what_it_cost(owner):
    job = an_own_job()
    belt = in_work(job, owner)
    taken(job, belt, owner)
    assert costs_so_far([job.stay])[job.stay_id] == Decimal(80)


def test_a_part_put_back_takes_its_cost_out_of_our_machine(owner):
    job = an_own_job()
    use = taken(job, in_work(job, owner), owner)
    put_back_part(use=use, by=owner, at=later(20))
    assert costs_so_far([job.stay])[job.stay_id] == Decimal(0)


def test_our_own_machine_has_no_payer_to_ask(owner):
    job = an_own_job()
    in_work(job, owner)
    motor = PartFactory(component=ComponentFactory(slug="drive-motor"))
    stocked(motor, cost="900")
    assert taken(job, motor, owner)


def test_more_of_a_part_than_was_agreed_raises_the_question(job, technician):
    """Two were agreed at 1.50, a third is within the allowance: it is asked about by its number."""
    screws = PartFactory(component=ComponentFactory(slug="fan"))
    stocked(screws, "9", cost="1")
    estimate = make_estimate(job=job, by=technician, at=later(1))
    words = {"line_class": "part", "description": "screws", "part": screws, "component_id": "fan"}
    money = {"quantity": Decimal(2), "unit_price": Decimal("1.5"), "net": Decimal(3)}
    line = estimate.lines.create(position=9, **words, **money)
    estimate = offer_estimate(estimate=estimate, by=technician, at=later(2))
    said(estimate, technician, at=later(3), up_to=Decimal(9))
    start_work(job=job, by=technician, at=later(4))
    agreed = taken(job, screws, technician, "2", line=line)
    assert unasked(Bench(job), agreed) == ""
    more = taken(job, screws, technician, "1", line=line)
    assert "or not so many of it" in unasked(Bench(job), more)
    assert [(one.part, one.quantity) for one in Bench(job).used_beyond] == [(screws.pk, Decimal(1))]
    again = make_estimate(job=job, by=technician, at=later(20))
    asked = again.lines.filter(part=screws).values_list("quantity", "reason")
    assert list(asked) == [
        (Decimal(2), ""),
        (Decimal(1), "Used already; it was not on the estimate."),
    ]


def test_an_agreed_price_is_had_for_an_agreed_line_only(job, belt, technician):
    """A later version, not answered yet, would sell it for a cent."""
    cheap = make_estimate(job=job, by=technician, at=later(5))
    cheap.lines.filter(line_class="part").update(unit_price=Decimal("0.01"))
    with pytest.raises(JobError, match="Nobody said yes to this line"):
        taken(job, belt, technician, line=cheap.lines.get(line_class="part"))


def test_a_line_brings_its_own_component_only(job, belt, technician):
    motor = PartFactory(component=ComponentFactory(slug="drive-motor"))
    stocked(motor, cost="90")
    with pytest.raises(JobError, match="is another component than"):
        taken(job, motor, technician, line=EstimateLine.objects.get(line_class="part"))
    other_number = PartFactory(component=belt.component)
    stocked(other_number, cost="70")
    line = EstimateLine.objects.get(line_class="part")
    assert taken(job, other_number, technician, line=line).unit_price == line.unit_price
