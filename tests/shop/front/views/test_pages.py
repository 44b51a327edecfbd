import uuid
from decimal import Decimal

import pytest
from django.urls import reverse

from shop.floor.models import MachineCost
from shop.work.models import Step
from tests.factories.parts import AnswerFactory, FitFactory, PartFactory
from tests.factories.pictures import pdf, upload
from tests.factories.shop import CustomerFactory
from tests.factories.units import (
    ComponentFactory,
    KindComponentFactory,
    MachineModelFactory,
    PersonFactory,
    PlateRecordFactory,
    RecallCheckFactory,
)
from tests.shop.front.ground import (
    customers_job,
    days_before_today,
    fill,
    inspected,
    invoice,
    machine,
    noon,
    our_machine,
)
from units.binder.services import add_file, record_error_code, write_note
from units.catalogue.models import Unit
from units.inspections.services.outcomes import Look, record_outcomes

pytestmark = pytest.mark.django_db
RECORD = {"part": "record"}
PARTS, PAST = {"part": "parts"}, {"part": "past"}


def text(response) -> str:
    assert response.status_code == 200
    return response.content.decode()


def machine_page(client, unit, **asked) -> str:
    return text(client.get(reverse("machine", args=[unit.pk]), asked))


def model_page(client, model, **asked) -> str:
    return text(client.get(reverse("model", args=[model.pk]), asked))


def deeds(client, unit) -> list[str]:
    page = client.get(reverse("machine", args=[unit.pk]))
    return [str(deed.label) for deed in page.context["deeds"]]


def test_a_machines_page_says_what_it_is_and_whose(sit):
    job = customers_job(days=2)
    page = machine_page(sit("technician"), job.unit)
    assert '<dl class="plate">' in page
    assert "It belongs to Ann Bell and is here since" in page
    assert job.number in page


def test_a_machine_that_nobody_has_is_not_found(sit):
    assert sit("owner").get(reverse("machine", args=[99999])).status_code == 404


def test_a_machine_that_was_never_here_says_so(sit):
    assert "It is not here." in machine_page(sit("owner"), machine())


def test_what_an_inspection_found_stands_on_the_machines_page(sit):
    unit = machine()
    inspected(unit)
    page = machine_page(sit("technician"), unit)
    assert "<strong>running belt</strong>" in page
    assert "A finding holds this machine" not in page


def test_a_finding_that_holds_a_machine_is_said_on_top(sit):
    unit = machine()
    inspected(unit, holds=True)
    assert "A finding holds this machine" in machine_page(sit("technician"), unit)


def test_parts_support_carries_its_source_date_and_age(sit):
    unit = machine()
    AnswerFactory(model=unit.model, status="ended", channel="notice", given_on=days_before_today(3))
    page = machine_page(sit("technician"), unit)
    assert '<span class="state stop">ended</span>' in page
    assert "parts desk" in page
    assert "3 days ago" in page


def test_an_old_answer_is_called_stale(sit):
    unit = machine()
    AnswerFactory(model=unit.model, given_on=days_before_today(800))
    assert '<span class="state watch">stale</span>' in machine_page(sit("technician"), unit)


def test_the_first_deed_is_to_go_on_with_the_open_job(sit):
    job = customers_job()
    assert deeds(sit("technician"), job.unit)[0] == f"Go on with job {job.number}"


def test_the_first_deed_on_our_own_machine_is_its_readiness(sit):
    assert deeds(sit("owner"), our_machine().unit)[0] == "See what it needs before it is sold"


def test_a_seat_is_offered_only_what_it_may_do(sit):
    unit = machine()
    assert "Log it in" in deeds(sit("front desk"), unit)
    assert "Log it in" not in deeds(sit("technician"), unit)
    assert deeds(sit("accountant"), unit) == []


def test_every_deed_leads_somewhere(sit):
    job, stay = customers_job(), our_machine()
    client = sit("front desk", "technician", "owner")
    for unit in (job.unit, stay.unit, machine("CV000001")):
        page = client.get(reverse("machine", args=[unit.pk]))
        for deed in page.context["deeds"]:
            if not deed.post:
                assert client.get(deed.href).status_code == 200, deed.href


def costly() -> Unit:
    stay = our_machine()
    for key, sort, amount in [("a", "purchase", "100.00"), ("b", "parts", "45.50")]:
        MachineCost.objects.create(
            stay=stay, sort=sort, amount=Decimal(amount), spent_on=stay.came_on, document="B00001",
            key=key, recorded_at=noon(stay.came_on), recorded_by=stay.came_by,
        )  # fmt: skip
    return stay.unit


def test_the_owner_reads_what_our_machine_cost(sit):
    page = machine_page(sit("owner"), costly(), **RECORD)
    assert "$145.50" in page


@pytest.mark.parametrize("seat", ["technician", "front desk"])
def test_the_bench_does_not_read_what_our_machine_cost(sit, seat):
    assert "$" not in machine_page(sit(seat), costly(), **RECORD)


def test_the_record_names_inspections_and_recall_checks(sit):
    unit = machine()
    inspected(unit)
    RecallCheckFactory(unit=unit)
    page = machine_page(sit("technician"), unit, **RECORD)
    assert "A protocol" in page
    assert '<span class="state good">no recall fits</span>' in page


def test_the_record_is_a_piece_when_the_page_fetches_it(sit):
    url = reverse("machine", args=[machine().pk])
    piece = sit("technician").get(url, RECORD, headers={"HX-Request": "true"})
    assert "<!doctype html>" not in text(piece)


def test_the_record_of_a_machine_that_nobody_has_is_not_found(sit):
    assert sit("owner").get(reverse("machine", args=[99999]), RECORD).status_code == 404


def test_a_models_page_shows_parts_with_what_lies_on_the_shelf(sit):
    model = machine().model
    FitFactory(model=model, part=PartFactory(number="CV-0815"))
    page = model_page(sit("technician"), model, **PARTS)
    assert "CV-0815" in page
    assert 'data-label="On the shelf" class="sum">0<' in page


def test_a_models_page_shows_what_was_learnt_under_a_merged_name(sit):
    model = machine().model
    merged = MachineModelFactory(number="TR9O", merged_into=model)
    AnswerFactory(model=merged, given_by="Kim of the parts desk")
    assert "Kim of the parts desk" in model_page(sit("technician"), model, **PARTS)


def test_a_merged_model_leads_to_the_one_that_stands_for_it(sit):
    model = machine().model
    merged = MachineModelFactory(number="TR9O", merged_into=model)
    response = sit("owner").get(reverse("model", args=[merged.pk]))
    assert response.url == reverse("model", args=[model.pk])


def test_a_model_that_nobody_knows_is_not_found(sit):
    assert sit("owner").get(reverse("model", args=[99999])).status_code == 404


def test_only_the_owner_is_offered_to_merge(sit):
    model = machine().model
    merge = reverse("model-merge", args=[model.pk])
    assert merge in model_page(sit("owner"), model)
    assert merge not in model_page(sit("technician"), model)


@pytest.mark.parametrize("asked", [{}, RECORD])
def test_a_machines_page_needs_no_more_queries_for_a_longer_life(
    sit, asked, django_assert_max_num_queries
):
    fill(2)
    unit = Unit.objects.filter(jobs__isnull=False).first()
    url, client = reverse("machine", args=[unit.pk]), sit("owner")
    with django_assert_max_num_queries(12) as few:
        client.get(url, asked)
    for _ in range(3):
        inspected(unit)
        RecallCheckFactory(unit=unit)
    with django_assert_max_num_queries(len(few)):
        client.get(url, asked)


@pytest.mark.parametrize("asked", [{}, PARTS, PAST])
def test_a_models_page_needs_no_more_queries_for_more_machines(
    sit, asked, django_assert_max_num_queries
):
    fill(2)
    KindComponentFactory(component=ComponentFactory(slug="running-belt"))
    unit = Unit.objects.filter(jobs__isnull=False).first()
    written_about(unit.model)
    looked_at(unit, "worn")
    url, client = reverse("model", args=[unit.model_id]), sit("owner")
    with django_assert_max_num_queries(12) as few:
        client.get(url, asked)
    fill(3)
    for number in range(3):
        written_about(unit.model, code=f"E{number}")
        looked_at(machine(f"CV00055{number}"), "sound", days_ago=1)
    with django_assert_max_num_queries(len(few)):
        client.get(url, asked)


def looked_at(unit, fate, days_ago=2, population="repair"):
    day = days_before_today(days_ago)
    record_outcomes(
        look=Look(unit=unit, known="finding", document=f"J{unit.pk}", population=population),
        fates={"running-belt": fate}, on=day, by=PersonFactory(), at=noon(day),
    )  # fmt: skip


def test_a_models_page_says_what_usually_needs_replacing_and_by_what(sit):
    unit = machine()
    KindComponentFactory(component=ComponentFactory(slug="running-belt"))
    assert "shop default only" in model_page(sit("technician"), unit.model)
    looked_at(unit, "worn")
    looked_at(machine("CV000124"), "sound")
    looked_at(machine("HG1", number="OTHER-1"), "sound")
    page = model_page(sit("technician"), unit.model)
    assert "1 of 2 here; 0 of 1 elsewhere" in page
    assert "shop default only" not in page


def test_the_odds_of_another_population_are_a_link_away(sit):
    unit = machine()
    KindComponentFactory(component=ComponentFactory(slug="running-belt"))
    looked_at(unit, "worn", population="club")
    page = sit("technician").get(reverse("model", args=[unit.model_id]), {"from": "club"})
    (odds,) = page.context["page"].odds
    assert (odds.chance.worn_here, odds.chance.looked_here) == (1, 1)
    page = sit("technician").get(reverse("model", args=[unit.model_id]), {"from": "moon"})
    assert page.context["page"].population == "repair"


def written_about(model, code="E7"):
    words = {"model": model, "by": PersonFactory(), "at": noon(days_before_today(1))}
    write_note(text="The hood screws are soft.", pinned=True, key=uuid.uuid4(), **words)
    write_note(text="Hold stop and up.", sort="service-mode", key=uuid.uuid4(), **words)
    belt = KindComponentFactory(kind=model.kind, component=ComponentFactory(slug="running-belt"))
    words |= {"meaning": "no pulses", "source": "manual, p. 12", "components": [belt.component]}
    record_error_code(code=code, **words)
    paper = upload(pdf(code), name="manual.pdf")
    words = {name: words[name] for name in ("model", "by", "at")}
    add_file(upload=paper, shows="manual", title="Service manual", **words)


def test_what_stands_in_the_binder_stands_on_the_models_page(sit):
    model = machine().model
    written_about(model)
    page = model_page(sit("technician"), model)
    for said in [
        "The hood screws are soft.",
        "Hold stop and up.",
        "no pulses",
        "manual, p. 12",
        "Service manual",
    ]:
        assert said in page


def test_only_the_bench_and_the_owner_are_offered_to_write_into_the_binder(sit):
    model = machine().model
    write = reverse("model-note-add", args=[model.pk])
    assert write in model_page(sit("technician"), model)
    assert write not in model_page(sit("front desk"), model)


def test_past_fixes_stand_with_the_machines_they_were_done_on(sit):
    job = customers_job(complaint="Belt slips", state="closed", outcome="repaired")
    Step.objects.create(
        job=job, to_state="closed", taken_at=noon(days_before_today(1)), taken_by=job.opened_by
    )
    page = model_page(sit("technician"), job.unit.model, **PAST)
    assert "belt slips or drags" in page
    assert job.number in page
    assert reverse("machine", args=[job.unit_id]) in page
    assert "too early to tell" in page


@pytest.mark.parametrize("asked", [PARTS, PAST])
def test_the_parts_of_a_models_page_are_pieces_when_the_page_fetches_them(sit, asked):
    url = reverse("model", args=[machine().model_id])
    assert "<!doctype html>" not in text(
        sit("owner").get(url, asked, headers={"HX-Request": "true"})
    )


def test_a_picture_is_shown_to_the_seats_that_may_open_it_and_to_the_others_named(sit):
    unit = machine()
    small = reverse("file-small", args=[PlateRecordFactory(unit=unit).photo_id])
    assert small in machine_page(sit("technician"), unit, **RECORD)
    page = machine_page(sit("accountant"), unit, **RECORD)
    assert small not in page
    assert "It has pictures that are for other seats." in page


def customer_page(client, customer) -> str:
    return text(client.get(reverse("customer", args=[customer.pk])))


def test_a_customers_page_leads_to_jobs_machines_and_what_is_owed(sit):
    job = customers_job()
    bill = invoice(customer=job.owner, total="192.00", paid="92.00")
    page = customer_page(sit("front desk"), job.owner)
    assert reverse("job", args=[job.number]) in page
    assert reverse("machine", args=[job.unit_id]) in page
    assert reverse("invoice", args=[bill.number]) in page
    assert "$100.00 still open" in page


def test_a_payer_s_page_shows_the_job_on_somebody_elses_machine(sit):
    payer = CustomerFactory(name="Larkmoor Hotel")
    job = customers_job(payer=payer)
    assert job.number in customer_page(sit("front desk"), payer)


def test_a_customer_without_a_job_is_told_so(sit):
    page = customer_page(sit("front desk"), CustomerFactory())
    assert "No job was opened for this customer." in page
    assert "Nothing was billed to this customer." in page


def test_a_customers_page_does_not_slow_down_with_its_jobs(sit, django_assert_max_num_queries):
    owner = CustomerFactory(name="Larkmoor Hotel")
    for count in range(5):
        customers_job(serial=f"CV00012{count}", owner=owner)
        invoice(customer=owner)
    client = sit("front desk")
    with django_assert_max_num_queries(12):
        customer_page(client, owner)


def test_a_customer_whom_nobody_knows_is_not_found(sit):
    assert sit("owner").get(reverse("customer", args=[99999])).status_code == 404


def test_logging_in_a_machine_we_know_starts_from_its_plate(sit):
    unit = machine(serial="CV000123")
    page = sit("front desk").get(reverse("machine", args=[unit.pk]))
    form = text(page.client.get(page.context["deeds"][0].href))
    assert 'value="CV000123"' in form
    assert 'value="Corvane"' in form
