import pytest
from django.urls import reverse

from shop.people.seats import SEATS
from shop.work.models import Estimate
from tests.factories.parts import AnswerFactory
from tests.factories.plates import a_reading
from tests.factories.units import MachineModelFactory, UnitFactory
from tests.shop.front.ground import (
    customers_job,
    days_before_today,
    fill,
    invoice,
    machine,
    our_machine,
)
from tests.units.recalls.ground import load, record

pytestmark = pytest.mark.django_db
HTMX = {"HX-Request": "true"}


def text(response) -> str:
    assert response.status_code == 200
    return response.content.decode()


def part(client, seat, key, **more) -> str:
    return text(client.get(reverse("home"), {"seat": seat, "part": key}, **more))


@pytest.mark.parametrize("seat", list(SEATS))
def test_a_seat_opens_on_an_empty_shop_without_a_gap(sit, seat):
    assert "What is next" in text(sit(seat).get(reverse("home")))


def test_the_front_desk_may_log_a_machine_in_at_once(sit):
    page = text(sit("front desk").get(reverse("home")))
    assert f'class="act main" href="{reverse("intake")}"' in page


def test_the_technician_reads_which_machine_waits_for_inspection_and_since_when(sit):
    job = customers_job(days=2)
    page = text(sit("technician").get(reverse("home")))
    assert "Corvane TR-90 CV000123 (Ann Bell) waits for its inspection." in page
    assert "(2 days ago)" in page
    assert reverse("job", args=[job.number]) in page


def test_the_front_desk_reads_whom_to_call_for_an_answer(sit):
    job = customers_job(state="estimated")
    Estimate.objects.create(
        job=job, version=1, made_at=job.opened_at, made_by=job.opened_by,
        offered_at=job.opened_at, offered_by=job.opened_by,
    )  # fmt: skip
    page = text(sit("front desk").get(reverse("home")))
    assert reverse("estimate-answer", args=[job.number, 1]) in page
    assert "Ann Bell has not answered the estimate for Corvane TR-90 CV000123." in page


def test_what_waits_longer_than_a_week_is_called_late(sit):
    customers_job(days=8)
    page = text(sit("technician").get(reverse("home")))
    assert '<span class="state watch">late</span>' in page


def test_what_is_promised_for_yesterday_is_called_late(sit):
    customers_job(days=2, promised_on=days_before_today(1))
    page = text(sit("technician").get(reverse("home")))
    assert '<span class="state watch">late</span>' in page


def test_the_owner_reads_whose_turn_it_is(sit):
    customers_job()
    page = text(sit("owner").get(reverse("home")))
    assert "It is the turn of the technician." in page


def test_the_owner_reads_what_came_in_this_week(sit):
    customers_job(days=6)
    customers_job(serial="CV000999", days=7)
    our_machine()
    page = text(sit("owner").get(reverse("home")))
    assert "Corvane TR-90 CV000123 came for repair from Ann Bell." in page
    assert "Corvane TR-90 CV000777 was bought of somebody unnamed." in page
    assert "CV000999 came for repair" not in page


def test_the_owner_reads_for_which_models_nobody_asked(sit):
    our_machine()
    page = part(sit("owner"), "owner", "answers")
    assert "Nobody has asked about parts for Corvane TR-90. 1 machine of it is here." in page


def test_the_owner_reads_which_answer_went_stale(sit):
    AnswerFactory(model=our_machine().unit.model, given_on=days_before_today(800))
    page = part(sit("owner"), "owner", "answers")
    assert "The answer about Corvane TR-90 is stale." in page


def test_a_model_whose_machines_all_left_need_not_be_asked_about(sit):
    machine()
    assert "Nobody has asked" not in part(sit("owner"), "owner", "answers")


def test_the_owner_reads_which_names_are_as_typed(sit):
    machine(number="TR9O", confirmed=False)
    page = part(sit("owner"), "owner", "answers")
    assert "Corvane TR9O (treadmill) is a name as it was typed." in page


def test_the_owner_reads_that_nothing_is_ready_to_sell(sit):
    our_machine()
    assert "None of our machines is ready yet." in part(sit("owner"), "owner", "sale")


def test_the_front_desk_and_the_accountant_read_what_is_owed(sit):
    invoice(total="192.00", paid="42.00")
    for seat in ("front desk", "accountant"):
        page = text(sit(seat).get(reverse("home")))
        assert "Ann Bell owes $150.00 on invoice" in page


def test_a_paid_invoice_is_no_longer_spoken_of(sit):
    invoice(total="192.00", paid="192.00")
    assert "Ann Bell" not in text(sit("accountant").get(reverse("home")))


def test_the_accountant_reads_which_book_can_be_made(sit):
    last = days_before_today(0).replace(day=1)
    page = text(sit("accountant").get(reverse("home")))
    assert "is over: its book can be made." in page
    assert f'href="{reverse("period", args=[f"{last:%Y-%m}"])}"' not in page


def test_a_person_with_two_seats_changes_between_them(sit):
    client = sit("front desk", "owner")
    assert "Calls to make" in text(client.get(reverse("home")))
    assert "Waits for you" in text(client.get(reverse("home"), {"seat": "owner"}))


def test_a_person_does_not_open_on_a_seat_that_is_not_his(sit):
    assert sit("front desk").get(reverse("home"), {"seat": "owner"}).status_code == 404


@pytest.mark.parametrize(("seat", "key"), [("accountant", "sale"), ("owner", "no-such-part")])
def test_a_part_that_a_seat_does_not_have_is_not_found(sit, seat, key):
    assert sit(seat).get(reverse("home"), {"seat": seat, "part": key}).status_code == 404


def test_a_part_is_a_whole_page_without_script_and_a_piece_with_it(sit):
    client = sit("owner")
    whole = client.get(reverse("home"), {"seat": "owner", "part": "sale"})
    piece = client.get(reverse("home"), {"seat": "owner", "part": "sale"}, headers=HTMX)
    assert "<!doctype html>" in text(whole)
    assert "<!doctype html>" not in text(piece)
    assert "HX-Request" in whole.headers["Vary"]


@pytest.mark.parametrize("seat", ["front desk", "owner"])
def test_desk_and_owner_read_how_many_plates_wait_for_a_look(sit, seat):
    client = sit(seat)
    assert reverse("plates") not in text(client.get(reverse("home"))).split("<main", 1)[1]
    a_reading()
    assert "1 plate waits for a look." in text(client.get(reverse("home")))
    a_reading()
    page = text(client.get(reverse("home")))
    assert "2 plates wait for a look." in page
    assert f'href="{reverse("plates")}"' in page.split("<main", 1)[1]


@pytest.mark.parametrize("seat", ["technician", "owner"])
def test_bench_and_owner_read_how_many_recalls_wait_for_a_decision(sit, seat):
    client = sit(seat)
    model = MachineModelFactory(number="TR-90")
    UnitFactory(model=model, serial="CV125000")
    assert "part=recalls" in text(client.get(reverse("home")))
    assert "Nothing waits here." in part(client, seat, "recalls")
    assert "Recalls" not in part(client, seat, "recalls", headers=HTMX)
    load(record())
    page = part(client, seat, "recalls", headers=HTMX)
    assert "1 match of a recall and a machine waits for a decision." in page
    assert f'href="{reverse("recall-match-list")}"' in page
    UnitFactory(model=model, serial="CV125001")
    page = part(client, seat, "recalls", headers=HTMX)
    assert "2 matches of a recall and a machine wait for a decision." in page


@pytest.mark.parametrize("seat", list(SEATS))
def test_an_opening_page_needs_no_more_queries_for_more_jobs(
    sit, seat, django_assert_max_num_queries
):
    fill(3)
    client = sit(seat)
    with django_assert_max_num_queries(12) as few:
        client.get(reverse("home"))
    fill(4)
    with django_assert_max_num_queries(len(few)):
        client.get(reverse("home"))


@pytest.mark.parametrize("key", ["answers", "sale", "recalls"])
def test_a_part_needs_no_more_queries_for_more_machines(sit, key, django_assert_max_num_queries):
    fill(3)
    client = sit("owner")
    with django_assert_max_num_queries(12) as few:
        part(client, "owner", key, headers=HTMX)
    fill(4)
    with django_assert_max_num_queries(len(few)):
        part(client, "owner", key, headers=HTMX)
