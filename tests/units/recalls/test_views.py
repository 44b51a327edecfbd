from datetime import timedelta

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse
from django.utils import timezone

from tests.factories.units import MORNING, MachineModelFactory, PersonFactory, UnitFactory
from tests.units.recalls.ground import PROSE, as_csv, as_json, load, record, row
from units.recalls.models import Recall, RecallCheck, RecallDecision
from units.recalls.selectors import match_of
from units.recalls.services import decide_match

pytestmark = pytest.mark.django_db


@pytest.fixture
def bench(client):
    client.force_login(PersonFactory(seats=["technician"]))
    return client


@pytest.fixture
def unit():
    return UnitFactory()


def send(client, unit, **changes):
    said = {
        "outcome": "none",
        "source": "the public list",
        "checked_on": timezone.localdate().isoformat(),
        "note": "",
    }
    return client.post(reverse("recall-check-add", args=[unit.pk]), said | changes)


def test_page_names_the_law_and_defers_to_list_and_counsel(
    bench, unit, django_assert_max_num_queries
):
    """REFERENCE section 8: Consumer Product Safety Act s. 19, 15 U.S.C. 2068."""
    with django_assert_max_num_queries(12):
        page = bench.get(reverse("recall-check-add", args=[unit.pk])).content.decode()
    assert "Consumer Product Safety Act, section 19; 15 U.S.C. 2068" in page
    assert "ask counsel" in page


def test_no_outcome_is_chosen_beforehand(bench, unit):
    page = bench.get(reverse("recall-check-add", args=[unit.pk])).content.decode()
    assert "checked>" not in page
    assert page.count('type="radio"') == 3


def test_check_is_recorded_and_leads_to_the_machine(bench, unit):
    assert send(bench, unit)["Location"] == reverse("machine", args=[unit.pk])
    assert unit.recall_checks.get().outcome == "none"


@pytest.mark.parametrize(
    ("wrong", "field"),
    [
        ({"outcome": ""}, "outcome"),
        ({"outcome": "maybe"}, "outcome"),
        ({"outcome": "fits"}, "note"),
        ({"source": ""}, "source"),
        ({"checked_on": "soon"}, "checked_on"),
        ({"note": "x" * 401}, "note"),
    ],
)
def test_wrong_check_gets_a_sentence_at_its_field(bench, unit, wrong, field):
    response = send(bench, unit, **wrong)
    assert response.status_code == 422
    assert list(response.context["form"].errors) == [field]
    assert not RecallCheck.objects.exists()


def test_check_of_a_day_to_come_is_refused(bench, unit):
    later = timezone.localdate() + timedelta(days=2)
    response = send(bench, unit, checked_on=later.isoformat())
    assert list(response.context["form"].errors) == ["checked_on"]


def test_accountant_records_no_checks(client, unit):
    client.force_login(PersonFactory(seats=["accountant"]))
    assert send(client, unit).status_code == 403
    assert not RecallCheck.objects.exists()


LAW = "Consumer Product Safety Act, section 19; 15 U.S.C. 2068"


def text(response) -> str:
    assert response.status_code == 200
    return response.content.decode()


@pytest.fixture
def recalled():
    load(record())
    return UnitFactory(model=MachineModelFactory(number="TR-90"), serial="CV125000")


@pytest.fixture
def owner(client):
    client.force_login(PersonFactory(seats=["owner"]))
    return client


def address(name, unit):
    return reverse(name, args=[Recall.objects.get().pk, unit.pk])


def decision(unit, **changes):
    said = {"outcome": "dismissed", "reason": "another frame"}
    return {"basis": match_of(Recall.objects.get(), unit).basis} | said | changes


def confirm(unit):
    recall = Recall.objects.get()
    return decide_match(
        recall=recall, unit=unit, outcome="confirmed", reason="the plate says so",
        basis=match_of(recall, unit).basis, by=PersonFactory(), at=MORNING,
    )  # fmt: skip


def upload(content: bytes, name="recalls.json"):
    return {"file": SimpleUploadedFile(name, content)}


def test_the_list_says_how_many_matches_wait_and_when_it_was_loaded(bench, recalled):
    page = text(bench.get(reverse("recall-list")))
    assert "1 match of a recall and a machine waits" in page
    assert "recalls.json" in page
    assert "Corvane Recalls Treadmills" in page


@pytest.mark.parametrize(
    ("asked", "numbers"),
    [
        ({}, {"26645", "18-764"}),
        ({"text": "lamps"}, {"18-764"}),
        ({"text": "18764"}, {"18-764"}),
        ({"whose": "ours"}, {"26645"}),
        ({"text": "nothing of the kind"}, set()),
    ],
)
def test_the_list_is_narrowed_by_words_number_and_maker(bench, recalled, asked, numbers):
    lamps = {"Title": "Lamps Recalled", "Products": [], "Manufacturers": []}
    load(record(), record("18-764", text="Lamps.", **lamps))
    page = bench.get(reverse("recall-list"), asked)
    assert {recall.number for recall in page.context["recalls"]} == numbers


def test_the_page_of_a_notice_shows_its_text_the_law_and_the_machines(bench, recalled):
    page = text(bench.get(Recall.objects.get().get_absolute_url()))
    assert LAW in page
    assert "check the current list" in page
    assert "This is no legal advice" in page
    assert "The belt can start by itself." in page
    assert "CV125000" in page
    assert "serial in range" in page


def test_a_notices_text_is_text_and_no_markup(bench):
    load(record(text="=1+1 &lt;script&gt;alert(1)&lt;/script&gt;", Title='=HYPERLINK("x")'))
    page = text(bench.get(Recall.objects.get().get_absolute_url()))
    assert "<script>alert" not in page
    assert "=HYPERLINK(&quot;x&quot;)" in page


def test_a_notice_that_is_not_there_is_not_found(bench):
    assert bench.get(reverse("recall", args=[99])).status_code == 404


def test_the_matches_to_be_decided_stand_in_one_list(bench, recalled):
    assert str(recalled) in text(bench.get(reverse("recall-match-list")))
    confirm(recalled)
    assert str(recalled) not in text(bench.get(reverse("recall-match-list")))
    assert str(recalled) in text(bench.get(reverse("recall-match-list"), {"all": "1"}))


def test_a_machine_shows_its_recalls_and_what_was_decided(bench, recalled):
    page = text(bench.get(reverse("machine-recalls", args=[recalled.pk])))
    assert "not decided" in page
    assert "It may not be sold." in page
    confirm(recalled)
    page = text(bench.get(reverse("machine-recalls", args=[recalled.pk])))
    assert "the plate says so" in page
    assert LAW in page


def test_the_lines_alone_are_fetched_into_the_machines_page(bench, recalled):
    asked = bench.get(reverse("machine-recalls", args=[recalled.pk]), HTTP_HX_REQUEST="true")
    assert "not decided" in text(asked)
    assert "<html" not in text(asked)
    page = text(bench.get(reverse("machine", args=[recalled.pk])))
    assert f'hx-get="{reverse("machine-recalls", args=[recalled.pk])}"' in page


def test_a_machine_without_a_recall_says_so(bench, unit):
    page = text(bench.get(reverse("machine-recalls", args=[unit.pk])))
    assert "No recall that is loaded here means this machine." in page


def test_who_decides_sees_the_words_that_the_match_rests_on(bench, recalled):
    page = text(bench.get(address("recall-decide", recalled)))
    assert "Serial numbers from CV120000 through CV129999 are included." in page
    assert "checked>" not in page


def test_a_decision_is_written_down_and_leads_to_the_machine(bench, recalled):
    response = bench.post(address("recall-decide", recalled), decision(recalled))
    assert response["Location"] == reverse("machine-recalls", args=[recalled.pk])
    assert RecallDecision.objects.get().outcome == "dismissed"


def test_a_decision_sent_twice_is_one(bench, recalled):
    said = decision(recalled)
    bench.post(address("recall-decide", recalled), said)
    bench.post(address("recall-decide", recalled), said)
    assert RecallDecision.objects.count() == 1


@pytest.mark.parametrize(
    ("wrong", "field"),
    [
        ({"reason": ""}, "reason"),
        ({"reason": "x" * 401}, "reason"),
        ({"outcome": ""}, "outcome"),
        ({"outcome": "remedied"}, "outcome"),
        ({"basis": "of another day"}, "reason"),
    ],
)
def test_a_wrong_decision_gets_a_sentence_at_its_field(bench, recalled, wrong, field):
    response = bench.post(address("recall-decide", recalled), decision(recalled, **wrong))
    assert response.status_code == 422
    assert list(response.context["form"].errors) == [field]
    assert not RecallDecision.objects.exists()


def test_what_matches_nothing_cannot_be_decided_on(bench, recalled):
    other = UnitFactory(model=MachineModelFactory(number="TR-80"))
    assert bench.get(address("recall-decide", other)).status_code == 404


def test_the_owner_records_a_remedy_and_the_advice(owner, recalled):
    confirm(recalled)
    said = decision(recalled, advice="counsel, by letter") | {"reason": "board changed"}
    assert owner.post(address("recall-remedy", recalled), said).status_code == 302
    assert RecallDecision.objects.first().advice == "counsel, by letter"
    assert "remedy done" in text(owner.get(reverse("machine-recalls", args=[recalled.pk])))


@pytest.mark.parametrize("wrong", ["reason", "advice"])
def test_a_remedy_without_a_word_gets_a_sentence_at_its_field(owner, recalled, wrong):
    confirm(recalled)
    said = decision(recalled, advice="counsel") | {wrong: ""}
    response = owner.post(address("recall-remedy", recalled), said)
    assert response.status_code == 422
    assert list(response.context["form"].errors) == [wrong]


def test_a_remedy_of_what_nobody_confirmed_is_refused(owner, recalled):
    response = owner.post(address("recall-remedy", recalled), decision(recalled, advice="counsel"))
    assert response.status_code == 422
    assert "Confirm first" in response.content.decode()


@pytest.mark.parametrize(
    ("seat", "name"),
    [
        ("front desk", "recall-decide"),
        ("accountant", "recall-decide"),
        ("technician", "recall-remedy"),
    ],
)
def test_another_seat_may_not_decide(client, recalled, seat, name):
    client.force_login(PersonFactory(seats=[seat]))
    assert client.post(address(name, recalled), decision(recalled)).status_code == 403
    assert not RecallDecision.objects.exists()


@pytest.mark.parametrize(
    ("content", "name"), [(as_json(record()), "r.json"), (as_csv(row()), "r.csv")]
)
def test_a_list_is_loaded_from_the_screen(bench, content, name):
    response = bench.post(reverse("recall-load"), upload(content, name), follow=True)
    assert "Recalls new: 1, changed: 0, as before: 0." in text(response)
    assert Recall.objects.count() == 1


def test_a_list_that_opens_matches_leads_to_them(bench):
    UnitFactory(model=MachineModelFactory(number="TR-90"), serial="CV125000")
    response = bench.post(reverse("recall-load"), upload(as_json(record())))
    assert response["Location"] == reverse("recall-match-list")


@pytest.mark.parametrize(
    ("sent", "said"),
    [
        ({}, "Choose the file."),
        (upload(b""), "The file is empty."),
        (upload(as_json(record())[:-30]), "at line"),
        (upload(as_csv(row(text="caf\u00e9")).decode().encode("cp1252")), "Line 2 holds bytes"),
        (upload(b"Dear customer"), "neither the JSON nor the CSV"),
    ],
)
def test_a_list_that_cannot_be_loaded_gets_a_sentence_at_its_field(bench, sent, said):
    response = bench.post(reverse("recall-load"), sent)
    assert response.status_code == 422
    assert said in response.content.decode()
    assert not Recall.objects.exists()


@pytest.mark.parametrize("count", [2, 9])
@pytest.mark.parametrize(
    "name", ["recall-list", "recall", "recall-match-list", "machine-recalls", "recall-decide"]
)
def test_no_page_needs_more_queries_for_more_rows(
    bench, recalled, name, count, django_assert_max_num_queries
):
    others = [record(str(number), text=PROSE) for number in range(count)]
    load(record(), *others)
    for number in range(count):
        UnitFactory(model=recalled.model, serial=f"CV1200{number:02}")
    recall = Recall.objects.get(key="26645")
    args = {
        "recall": [recall.pk],
        "machine-recalls": [recalled.pk],
        "recall-decide": [recall.pk, recalled.pk],
    }
    with django_assert_max_num_queries(12):
        assert bench.get(reverse(name, args=args.get(name, []))).status_code == 200


def test_whoever_loads_an_older_list_reads_how_much_was_left_out(bench):
    load(record())
    older = as_json(record(text="Nothing more.", LastPublishDate="2026-01-05T00:00:00"))
    response = bench.post(reverse("recall-load"), upload(older), follow=True)
    assert "1 notice was left out: a later wording of it is known." in response.content.decode()
