import json
from datetime import date, timedelta

import pytest
from django.db import IntegrityError, transaction

from tests.factories.units import MORNING, MachineModelFactory, PersonFactory, UnitFactory
from tests.units.recalls.ground import PROSE, as_csv, as_json, load, record, row
from units.recalls.domain.notice import Product
from units.recalls.models import Recall, RecallLoad, RecallVersion, RecallWord
from units.recalls.selectors import open_matches
from units.recalls.services import RecallError, load_recalls

pytestmark = pytest.mark.django_db
NEXT_DAY = MORNING + timedelta(days=1)


def counts(loaded) -> tuple[int, int, int, int]:
    return loaded.new, loaded.changed, loaded.same, loaded.opened


def refuse(content: bytes) -> str:
    with pytest.raises(RecallError) as caught:
        load_recalls(content=content, name="list", by=None, at=MORNING)
    assert caught.value.field == "file"
    return str(caught.value)


def test_a_new_notice_is_kept_with_its_words_and_as_it_was_published():
    assert counts(load(record())) == (1, 0, 0, 0)
    recall = Recall.objects.get()
    assert (recall.key, recall.title) == ("26645", record()["Title"])
    assert recall.notice.products[0].name == "Corvane treadmills"
    assert recall.words.filter(word="CORVANE").exists()
    assert json.loads(recall.versions.get().raw) == record()


def test_the_same_list_again_changes_nothing():
    load(record(), record("1"))
    assert counts(load(record(), record("1"), at=NEXT_DAY)) == (0, 0, 2, 0)
    assert Recall.objects.count() == RecallVersion.objects.count() == 2


def test_a_changed_notice_is_brought_up_to_date_and_its_past_is_kept():
    load(record(), record("1"))
    loaded = load(record(text="Kestrow treadmills."), record("1"), at=NEXT_DAY)
    assert counts(loaded) == (0, 1, 1, 0)
    recall = Recall.objects.get(key="26645")
    assert (recall.description, recall.loaded_at) == ("Kestrow treadmills.", NEXT_DAY)
    assert recall.words.filter(word="KESTROW").exists()
    assert [version.loaded_at for version in recall.versions.all()] == [NEXT_DAY, MORNING]


def test_a_number_written_otherwise_is_no_second_notice():
    load(record("18-764"))
    load(record("Release #18-764"))
    assert Recall.objects.get().key == "18764"


def test_the_csv_form_finds_the_notice_that_came_as_json():
    load(record())
    content = as_csv(row())
    loaded = load_recalls(content=content, name="recalls.csv", by=None, at=NEXT_DAY)
    assert (loaded.new, Recall.objects.count()) == (0, 1)


def published(on: str, text=PROSE, **changes) -> dict:
    return record(text=text, LastPublishDate=f"{on}T00:00:00", **changes)


def test_an_older_wording_brings_no_narrower_ranges_back():
    UnitFactory(model=MachineModelFactory(number="TR-90"), serial="CV130000")
    load(published("2026-08-02", PROSE.replace("129999", "139999")))
    loaded = load(published("2026-07-30"), record("2"), at=NEXT_DAY)
    assert (*counts(loaded), loaded.older) == (1, 0, 0, 0, 1)
    assert loaded.left_out == "1 notice was left out: a later wording of it is known."
    assert "139999" in Recall.objects.get(key="26645").description
    assert RecallVersion.objects.filter(recall__key="26645").count() == 1
    assert len(open_matches()) == 1


def test_the_same_words_on_a_later_day_are_known_to_hold_from_then():
    load(published("2026-07-30"))
    loaded = load(published("2026-08-05"), at=NEXT_DAY)
    assert (*counts(loaded), loaded.older, loaded.left_out) == (0, 0, 1, 0, 0, "")
    assert load(published("2026-08-02", "Nothing more."), at=NEXT_DAY).older == 1


def test_a_later_wording_and_one_of_the_same_day_are_taken_in():
    load(published("2026-07-30"))
    assert load(published("2026-07-30", "Model TR-91."), at=NEXT_DAY).changed == 1
    assert load(published("2026-07-31", "Model TR-92."), at=NEXT_DAY).changed == 1
    recall = Recall.objects.get()
    assert (recall.description, recall.published_on) == ("Model TR-92.", date(2026, 7, 31))


def test_what_the_csv_form_leaves_empty_stays_as_the_json_form_gave_it():
    told = {"Name": "Corvane treadmills", "Description": "Model TR-99.", "NumberOfUnits": "About 9"}
    load(published("2026-07-30", Products=[told]))
    before = Recall.objects.get().notice
    content = as_csv(row())
    load_recalls(content=content, name="recalls.csv", by=None, at=NEXT_DAY)
    after = Recall.objects.get().notice
    assert (after.url, after.hazard, after.contact) == (before.url, before.hazard, before.contact)
    assert after.products == (Product("Corvane treadmills", "Model TR-99.", units="About 19,900"),)
    again = load_recalls(content=content, name="recalls.csv", by=None, at=NEXT_DAY)
    assert counts(again) == (0, 0, 1, 0)
    assert load(published("2026-07-29", "Nothing more."), at=NEXT_DAY).older == 1


def test_a_load_says_how_many_matches_it_opened():
    unit = UnitFactory(model=MachineModelFactory(number="TR-90"), serial="CV125000")
    assert load(record(), record("2", text="Model TR-95.")).opened == 1
    assert [match.unit for match in open_matches()] == [unit]
    assert load(record(), at=NEXT_DAY).opened == 0


def test_a_change_of_ranges_opens_a_match_with_a_machine_that_was_outside():
    UnitFactory(model=MachineModelFactory(number="TR-90"), serial="CV130000")
    assert load(record()).opened == 0
    assert load(record(text=PROSE.replace("129999", "139999")), at=NEXT_DAY).opened == 1


def test_a_load_is_written_down_with_who_and_when():
    by = PersonFactory()
    loaded = load(record(), by=by)
    assert (loaded.name, loaded.loaded_by, loaded.loaded_at) == ("recalls.json", by, MORNING)


@pytest.mark.parametrize("form", [as_json(record("1"), record("2")), as_csv(row("1"), row("2"))])
def test_of_a_file_cut_in_half_nothing_is_loaded(form):
    assert "line" in refuse(form[: len(form) * 3 // 4])
    assert not Recall.objects.exists()
    assert not RecallLoad.objects.exists()


def test_of_a_file_with_one_bad_record_nothing_is_loaded():
    assert "Record 2" in refuse(as_json(record("1"), record("")))
    assert not Recall.objects.exists()


def test_the_error_of_the_agencys_server_changes_nothing():
    load(record())
    refuse(as_json({"RecallID": 0, "Title": "Error retrieving Recalls: busy"}))
    assert Recall.objects.count() == 1


def test_characters_that_no_database_keeps_are_taken_out():
    load(record(text="Model TR-90\x00.", Title="Corvane \ud800 Recalls"))
    assert Recall.objects.get().description == "Model TR-90."


def test_thousands_of_notices_take_few_queries(django_assert_max_num_queries):
    records = [record(str(number)) for number in range(1000)]
    with django_assert_max_num_queries(400):
        assert load(*records).new == 1000


def test_a_word_longer_than_any_name_finds_no_notice_and_breaks_none():
    load(record(Title="A" * 200))
    assert not RecallWord.objects.filter(word__startswith="AAAA").exists()


@pytest.mark.parametrize("model", [RecallVersion, RecallLoad])
def test_what_was_loaded_is_never_changed(model):
    load(record())
    one = model.objects.get()
    with pytest.raises(IntegrityError, match="only grows"), transaction.atomic():
        one.save()
    with pytest.raises(IntegrityError, match="only grows"), transaction.atomic():
        one.delete()
