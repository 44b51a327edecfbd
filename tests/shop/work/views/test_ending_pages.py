import uuid
from decimal import Decimal

import pytest
from django.urls import reverse

from shop.till.models import Invoice, Payment
from shop.work.models import HandBack, WorkOrder
from shop.work.services import add_time, close_job, take_part
from shop.work.services.closing_facts import Ending
from tests.factories.units import TODAY, RecallCheckFactory
from tests.shop.work.bench import a_job, an_own_job, in_work, later, looked_at
from tests.units.recalls.ground import load, record

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("rules")]


@pytest.fixture
def bench(client, technician):
    client.force_login(technician)
    return client


@pytest.fixture
def desk(client, clerk):
    client.force_login(clerk)
    return client


@pytest.fixture
def begun(technician):
    job = a_job()
    in_work(job, technician)
    return job


@pytest.fixture
def tested(begun, technician):
    line = begun.estimates.get().lines.first()
    take_part(
        job=begun,
        part=line.part,
        quantity=Decimal(1),
        line=line,
        key=uuid.uuid4(),
        by=technician,
        at=later(10),
    )
    add_time(job=begun, minutes=60, worked_on=TODAY, key=uuid.uuid4(), by=technician, at=later(60))
    looked_at(begun, technician, later(70), occasion="final")
    return begun


@pytest.fixture
def repaired(tested, technician):
    ending = Ending("repaired", safety_key="here")
    return close_job(job=tested, ending=ending, by=technician, at=later(90))


@pytest.fixture
def unsafe(technician):
    ending = Ending("unsafe", safety_key="here", notice="Do not use it.")
    return close_job(job=a_job(), ending=ending, by=technician, at=later(5))


def at(name, job):
    return reverse(name, args=[job.number])


REPAIRED = {"outcome": "repaired", "safety_key": "here"}


def test_a_job_is_closed(bench, tested):
    answer = bench.post(at("job-close", tested), REPAIRED, follow=True)
    assert "is closed: repaired" in answer.content.decode()
    assert WorkOrder.objects.get().state == "closed"


def test_two_tabs_close_a_job_once(bench, tested):
    bench.post(at("job-close", tested), REPAIRED)
    answer = bench.post(at("job-close", tested), REPAIRED | {"outcome": "unsafe"}, follow=True)
    assert "is closed: Kim Hale" in answer.content.decode()
    assert WorkOrder.objects.get().outcome == "repaired"
    assert tested.steps.filter(to_state="closed").count() == 1


def test_what_is_missing_is_listed_before_and_after_the_press(bench, begun):
    page = bench.get(at("job-close", begun)).content.decode()
    answer = bench.post(at("job-close", begun), REPAIRED)
    assert answer.status_code == 422
    for sentence in ("Not taken from the shelf", "No time is written", "No final test was made"):
        assert sentence in page
        assert sentence in answer.content.decode()


def test_why_a_part_was_not_taken_is_asked_for_by_its_name(bench, begun):
    line = begun.estimates.get().lines.first()
    text = bench.get(at("job-close", begun)).content.decode()
    assert f'name="why_{line.pk}"' in text
    answer = bench.post(at("job-close", begun), REPAIRED | {f"why_{line.pk}": "cleaned instead"})
    assert "Not taken from the shelf" not in answer.content.decode()


def test_the_notice_that_was_written_is_the_one_that_is_kept(bench, begun):
    unsafe = {"outcome": "unsafe", "safety_key": "here", "notice_unsafe": "Do not use it at all."}
    bench.post(at("job-close", begun), unsafe | {"notice_declined": "other text"})
    assert WorkOrder.objects.get().notice.text == "Do not use it at all."


def test_only_the_owner_is_offered_to_waive(bench, begun, owner):
    assert 'name="waiver"' not in bench.get(at("job-close", begun)).content.decode()
    bench.force_login(owner)
    assert 'name="waiver"' in bench.get(at("job-close", begun)).content.decode()


def test_a_waiver_slipped_in_by_a_technician_waives_nothing(bench, begun):
    answer = bench.post(at("job-close", begun), REPAIRED | {"waiver": "please"})
    assert "No time is written" in answer.content.decode()


def test_an_outcome_that_the_state_does_not_offer_is_refused(bench, begun):
    answer = bench.post(at("job-close", begun), {"outcome": "sold"})
    assert answer.status_code == 422
    assert WorkOrder.objects.get().state == "in-work"


def test_the_closing_page_takes_few_queries(bench, tested, django_assert_max_num_queries):
    with django_assert_max_num_queries(12):
        assert bench.get(at("job-close", tested)).status_code == 200


def test_a_job_is_cancelled_once(desk):
    job = a_job()
    desk.post(at("job-cancel", job), {"reason": "logged twice", "left": "on"})
    answer = desk.post(at("job-cancel", job), {"reason": "again"}, follow=True)
    assert "is cancelled: Sam Lind" in answer.content.decode()
    assert job.steps.get().note == "logged twice"


def test_cancelling_asks_why(desk):
    job = a_job()
    assert desk.post(at("job-cancel", job), {"reason": " "}).status_code == 422
    assert WorkOrder.objects.get().state == "logged"


def test_our_own_job_is_not_asked_whether_a_customer_takes_it(client, owner):
    client.force_login(owner)
    assert 'name="left"' not in client.get(at("job-cancel", an_own_job())).content.decode()


def test_the_notice_is_a_paper_with_a_signature_line(desk, unsafe):
    text = desk.get(at("notice", unsafe)).content.decode()
    assert "this machine is unsafe" in text
    assert "Do not use it." in text
    assert "signature" in text


def test_a_job_without_notice_has_no_paper(desk, repaired):
    assert desk.get(at("notice", repaired)).status_code == 404


def leaving(**other):
    return {
        "key": uuid.uuid4(),
        "taken_by": "Dana Mabry",
        "returned": ["safety-key"],
        "method": "",
        "amount": "",
    } | other


def test_the_hand_back_page_shows_what_will_be_billed(desk, repaired):
    text = desk.get(at("hand-back", repaired)).content.decode()
    assert "Replace: running belt" in text
    assert "$200.00" in text


def test_a_machine_is_handed_back_and_paid(desk, repaired):
    desk.post(at("hand-back", repaired), leaving(method="card"))
    assert HandBack.objects.get().taken_by == "Dana Mabry"
    assert Payment.objects.get().amount == Invoice.objects.get().total == Decimal(200)


def test_a_double_press_hands_back_once(desk, repaired):
    press = leaving(method="card")
    desk.post(at("hand-back", repaired), press)
    answer = desk.post(at("hand-back", repaired), press, follow=True)
    assert "is handed back: Sam Lind" in answer.content.decode()
    assert (Invoice.objects.count(), Payment.objects.count()) == (1, 1)


@pytest.mark.parametrize(
    ("said", "sentence"),
    [
        ({"taken_by": ""}, "This field is required"),
        ({"returned": []}, "does not go back: safety key"),
        ({"amount": "20"}, "Say how the amount is paid"),
        ({"method": "card", "amount": "900"}, "200.00"),
        ({"method": "shells"}, "not one of the available choices"),
    ],
)
def test_a_wrong_hand_back_is_told_and_the_machine_stays(desk, repaired, said, sentence):
    answer = desk.post(at("hand-back", repaired), leaving(**said))
    assert answer.status_code == 422
    assert sentence in answer.content.decode()
    assert not Invoice.objects.exists()


def test_an_unsafe_machine_asks_for_the_signed_notice_and_offers_a_fee(desk, unsafe):
    text = desk.get(at("hand-back", unsafe)).content.decode()
    assert 'name="notice_signed"' in text
    assert 'name="fee"' in text
    words = leaving(notice_signed="on", fee="35")
    refused = desk.post(at("hand-back", unsafe), words)
    assert refused.status_code == 422
    assert "more than was quoted" in str(refused.context["form"].errors["fee_agreed"])
    desk.post(at("hand-back", unsafe), words | {"fee_agreed": "Dana Mabry, by telephone"})
    assert Invoice.objects.get().net == Decimal(35)


def test_an_open_recall_is_to_be_told(desk, repaired):
    RecallCheckFactory(unit=repaired.unit, outcome="fits")
    assert "open recall" in desk.get(at("hand-back", repaired)).content.decode()


def test_a_recall_that_nobody_decided_on_is_to_be_told_too(desk, repaired):
    load(record(text=f"Model {repaired.unit.model.number}."))
    address = reverse("machine-recalls", args=[repaired.unit_id])
    assert f'hx-get="{address}"' in desk.get(at("hand-back", repaired)).content.decode()
    assert "not decided" in desk.get(address, HTTP_HX_REQUEST="true").content.decode()


def test_the_hand_back_page_takes_few_queries(desk, repaired, django_assert_max_num_queries):
    with django_assert_max_num_queries(12):
        assert desk.get(at("hand-back", repaired)).status_code == 200


@pytest.mark.parametrize(
    ("name", "seat"),
    [("job-close", "clerk"), ("job-cancel", "technician"), ("hand-back", "technician")],
)
def test_another_seat_s_page_stays_shut(client, begun, name, seat, request):
    client.force_login(request.getfixturevalue(seat))
    assert client.post(at(name, begun), {"reason": "x"}).status_code == 403
    assert WorkOrder.objects.get().state == "in-work"
