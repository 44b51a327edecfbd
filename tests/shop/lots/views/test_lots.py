import uuid
from decimal import Decimal

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse

from shop.lots.models import Lot, LotMachine, LotSource, LotStep
from shop.lots.services import Facts
from tests.factories.plates import a_reading, said
from tests.factories.shop import ShopProfileFactory
from tests.factories.units import TODAY, KindFactory, MachineModelFactory, PersonFactory
from tests.shop.lots.lots import MATTERS, a_list, a_listed_lot, a_lot, an_agreed_lot, later

pytestmark = pytest.mark.django_db


@pytest.fixture
def desk(client):
    """The owner, signed in."""
    ShopProfileFactory()
    client.force_login(PersonFactory(seats=["owner"]))
    return client


def post(client, name, *args, **said):
    return client.post(reverse(name, args=args), said)


def paying():
    return {"key": uuid.uuid4(), "method": "transfer", "on": TODAY.isoformat()}


def test_the_list_counts_the_machines_of_a_lot(desk):
    kind = KindFactory()
    a_listed_lot(Facts("tm", kind=kind, count=40), Facts("bike", kind=kind, count=6))
    (row,) = desk.get(reverse("lot-list")).context["lots"]
    assert row.machines == 46


@pytest.mark.parametrize(
    "narrowed", [{"text": "closing"}, {"text": "millrace"}, {"state": "listing"}]
)
def test_the_list_is_narrowed_by_title_seller_and_state(desk, narrowed):
    a_lot()
    an_agreed_lot(title="One treadmill", seller=a_lot(title="x").seller)
    rows = desk.get(reverse("lot-list"), narrowed).context["lots"]
    assert "Closing sale" in [row.title for row in rows]
    assert len(rows) < 3 or narrowed == {"text": "millrace"}


def test_the_list_shows_what_must_be_removed_by_a_day(desk):
    a_lot(remove_by=later(3))
    a_lot(title="Later", remove_by=later(9))
    rows = desk.get(reverse("lot-list"), {"due": later(5).isoformat()}).context["lots"]
    assert [row.title for row in rows] == ["Closing sale"]


def new_lot(**changes):
    said = {"key": uuid.uuid4(), "seller": "Millrace Athletic", "offered_on": TODAY.isoformat()}
    return said | changes


def test_a_lot_is_written_down_with_its_list_which_waits_for_the_worker(desk):
    file = SimpleUploadedFile("list.csv", b"Model,Qty\nKR 8,2\n")
    answer = post(desk, "lot-add", **new_lot(file=file, pasted="HG 7100\nKR 8"))
    lot = Lot.objects.get()
    assert answer["Location"] == reverse("lot-check", args=[lot.pk])
    assert (lot.title, lot.seller.name) == ("Millrace Athletic", "Millrace Athletic")
    assert sorted(LotSource.objects.values_list("way", "state")) == [
        ("file", "waiting"), ("pasted", "waiting"),
    ]  # fmt: skip
    assert "waits for the reader" in desk.get(answer["Location"]).text


def test_the_same_form_sent_twice_writes_one_lot(desk):
    said = new_lot()
    assert post(desk, "lot-add", **said)["Location"] == post(desk, "lot-add", **said)["Location"]
    assert Lot.objects.count() == 1


@pytest.mark.parametrize(
    ("changes", "sentence"),
    [
        ({"seller": ""}, "This field is required"),
        ({"remove_by": "2020-01-01"}, "due to leave before"),
        ({"asked": "-5"}, "greater than or equal"),
        ({"file": SimpleUploadedFile("l.xlsx", b"PK\x03\x04 cut")}, "damaged"),
    ],
)
def test_a_wrong_lot_gets_a_sentence_and_nothing_is_kept(desk, changes, sentence):
    answer = post(desk, "lot-add", **new_lot(**changes))
    assert (answer.status_code, Lot.objects.count()) == (422, 0)
    assert sentence in answer.text


def test_another_list_needs_a_file_or_a_text(desk):
    lot = a_lot()
    answer = post(desk, "lot-list-add", lot.pk)
    assert (answer.status_code, "paste a list" in answer.text) == (422, True)
    assert post(desk, "lot-list-add", lot.pk, pasted="KR 8").status_code == 302


def test_the_kept_list_can_be_saved_as_it_came(desk):
    source = a_list(content=b"Model,Qty\nKR 8,2\n", name="list.csv")
    answer = desk.get(reverse("lot-source", args=[source.lot_id, source.pk]))
    assert (answer.content, answer["Content-Disposition"]) == (b"Model,Qty\nKR 8,2\n", "attachment")


def test_a_lot_shows_its_lines_as_written_its_questions_and_its_steps(desk):
    model = MachineModelFactory(number="TR-900")
    lot = a_listed_lot(Facts("corvane tm", model=model), asked=None)
    page = desk.get(lot.get_absolute_url()).text
    for words in ("corvane tm", "Corvane TR-900", "asks for our price", "not asked", "Walk away"):
        assert words in page


def test_a_model_that_was_merged_shows_the_one_it_went_into(desk):
    into = MachineModelFactory(number="TR-900")
    model = MachineModelFactory(number="TR 900 S", merged_into=into)
    page = desk.get(a_listed_lot(Facts("tm", model=model)).get_absolute_url()).text
    assert "Corvane TR-900" in page
    assert "TR 900 S" not in page


def test_the_way_to_the_payment_is_walked_on_the_lots_page(desk):
    lot = a_listed_lot()
    assert post(desk, "lot-agree", lot.pk, price="4000", on=TODAY.isoformat()).status_code == 302
    refused = post(desk, "lot-pay", lot.pk, **paying())
    assert (refused.status_code, "Not before this is answered" in refused.text) == (422, True)
    for matter in MATTERS:
        said = {"matter": matter, "outcome": "clear", "given_by": "Dana Reed"}
        assert post(desk, "lot-matter", lot.pk, **said).status_code == 302
    assert post(desk, "lot-pay", lot.pk, **paying()).status_code == 302
    assert LotStep.objects.get(state="paid").amount == Decimal(4000)


def test_a_refused_answer_stays_in_the_form(desk):
    lot = a_listed_lot()
    said = {"matter": "lien", "outcome": "held", "given_by": "the bank", "note": "letter of May"}
    answer = post(desk, "lot-matter", lot.pk, **said)
    assert answer.status_code == 422
    assert "letter of May" in answer.text
    assert "how much is held back" in answer.text


def test_walking_away_takes_a_reason(desk):
    lot = a_listed_lot()
    assert post(desk, "lot-leave", lot.pk).status_code == 422
    assert post(desk, "lot-leave", lot.pk, why="the machines are leased").status_code == 302
    assert "the machines are leased" in desk.get(lot.get_absolute_url()).text


def test_a_phone_on_the_floor_looks_at_each_machine(desk):
    lot = a_listed_lot()
    machine = LotMachine.objects.get()
    assert "1 machine was not looked at" in desk.get(reverse("lot-walk", args=[lot.pk])).text
    address = lot.pk, machine.pk
    refused = post(desk, "lot-machine", *address, ran="dead")
    assert (refused.status_code, "why it was not run" in refused.text) == (422, True)
    assert post(desk, "lot-machine", *address, ran="dead", why_not="no cord").status_code == 302
    assert "no cord" in desk.get(reverse("lot-walk", args=[lot.pk])).text
    assert "counts as donor or scrap" in desk.get(reverse("lot-machine", args=address)).text
    post(desk, "lot-machine-odds", *address, yes="yes")
    assert "as you chose" in desk.get(reverse("lot-machine", args=address)).text


def test_what_the_photo_of_a_plate_reads_is_proposed_and_compared(desk):
    lot = a_listed_lot(Facts("treadmill", kind=KindFactory()))
    machine = LotMachine.objects.get()
    machine.reading = a_reading(said("model", "HG 7100"), said("serial", "ML100200"))
    machine.save()
    page = desk.get(reverse("lot-machine", args=[lot.pk, machine.pk]))
    assert page.context["form"].initial["serial"] == "ML100200"
    assert "The photo reads: model HG 7100" in page.text


def test_an_inspection_that_cannot_be_says_why(desk):
    lot = a_listed_lot()
    machine = LotMachine.objects.get()
    answer = desk.post(reverse("lot-machine-inspect", args=[lot.pk, machine.pk]), follow=True)
    assert "Say first which model it is" in answer.text


def test_a_scanned_serial_leads_to_its_machine_and_an_unknown_one_is_told(desk):
    lot = an_agreed_lot()
    machine = LotMachine.objects.get()
    load = reverse("lot-load", args=[lot.pk])
    found = desk.get(load, {"serial": "ml 100200"})
    assert found["Location"] == reverse("lot-machine-load", args=[lot.pk, machine.pk])
    assert "No one machine of this lot" in desk.get(load, {"serial": "XX1"}).text


def test_load_out_adjusts_the_price_and_the_truck_leaves_when_all_is_scanned(desk):
    lot = an_agreed_lot(price="4000.00")
    machine = LotMachine.objects.get()
    left = desk.post(reverse("lot-loaded", args=[lot.pk]), follow=True)
    assert "is paid before" in left.text
    post(desk, "lot-pay", lot.pk, **paying())
    said = {"fate": "stripped", "seen_serial": "ML100200", "adjusted": "350", "pin_missing": "yes"}
    post(desk, "lot-machine-load", lot.pk, machine.pk, **said)
    page = desk.get(reverse("lot-load", args=[lot.pk])).text
    assert "3,650" in page
    assert "pin missing" in page
    post(desk, "lot-loaded", lot.pk)
    lot.refresh_from_db()
    assert lot.state == Lot.State.LOADED


def test_a_scan_of_another_serial_is_refused_at_its_field(desk):
    lot = an_agreed_lot()
    machine = LotMachine.objects.get()
    said = {"fate": "loaded", "seen_serial": "KS999999"}
    answer = post(desk, "lot-machine-load", lot.pk, machine.pk, **said)
    assert (answer.status_code, "say that it was swapped" in answer.text) == (422, True)


def test_pages_need_no_more_queries_for_more_lines(desk, django_assert_max_num_queries):
    facts = [Facts("tm", model=MachineModelFactory(number=f"A{n}"), count=2) for n in range(8)]
    lot = an_agreed_lot(*facts)
    machine = LotMachine.objects.first()
    one = lot.pk, machine.pk
    ways = [("lot-list",), ("lot", lot.pk), ("lot-walk", lot.pk), ("lot-load", lot.pk)]
    ways += [("lot-machine", *one), ("lot-machine-load", *one)]
    for name, *args in ways:
        with django_assert_max_num_queries(12):
            desk.get(reverse(name, args=args))


def test_a_technician_walks_the_floor_and_sees_no_list_to_confirm(client):
    lot = a_listed_lot()
    client.force_login(PersonFactory(seats=["technician"]))
    assert client.get(reverse("lot-walk", args=[lot.pk])).status_code == 200
    assert client.get(reverse("lot-check", args=[lot.pk])).status_code == 403


def test_the_counter_sees_no_lots(client):
    client.force_login(PersonFactory(seats=["front desk"]))
    assert client.get(reverse("lot-list")).status_code == 403


def test_an_act_of_another_lot_finds_nothing(desk):
    lot, other = a_listed_lot(), a_lot(title="Other")
    line = lot.lines.get()
    assert desk.get(reverse("lot-line", args=[other.pk, line.pk])).status_code == 404
