import uuid
from datetime import timedelta

import pytest
from django.db import IntegrityError, transaction

from tests.factories.pictures import pdf, picture
from tests.factories.units import MORNING, ComponentFactory, MachineModelFactory
from units.binder.models import BenchNote, ErrorCode, ModelFile, NotePin, TakenOut
from units.binder.selectors import binder_of, error_codes
from units.binder.services import BinderError, pin_note, take_out
from units.files.models import StoredFile
from units.files.services import FileRefusedError

pytestmark = pytest.mark.django_db
LATER = MORNING + timedelta(hours=1)


def notes(model) -> list[str]:
    return [note.text for note in binder_of([model.pk]).notes]


def test_a_note_carries_who_wrote_it_and_when(write, model, person):
    note = write.note("  The hood screws are soft.  ")
    note.refresh_from_db()
    assert (note.text, note.written_by, note.written_at) == (
        "The hood screws are soft.",
        person,
        MORNING,
    )


def test_the_same_form_sent_twice_writes_one_note(write):
    key = uuid.uuid4()
    assert write.note(key=key) == write.note("something else", key=key)
    assert BenchNote.objects.count() == 1


def test_an_empty_note_is_refused(write):
    with pytest.raises(BinderError, match="Write something"):
        write.note(" \n ")
    assert not BenchNote.objects.exists()


def test_pinned_notes_stand_first_then_the_newest(write, model):
    write.note("first", pinned=True)
    write.note("second", at=LATER)
    write.note("third", at=LATER + timedelta(hours=1))
    assert notes(model) == ["first", "third", "second"]


def test_a_pin_changes_by_a_row_and_only_when_it_changes(write, model, person):
    first, _second = write.note("first"), write.note("second", at=LATER)
    for pinned in [True, True, False, True]:
        pin_note(note=first, pinned=pinned, by=person, at=LATER)
    assert list(NotePin.objects.values_list("pinned", flat=True)) == [True, False, True]
    assert notes(model) == ["first", "second"]


def test_the_newest_word_on_service_mode_counts(write, model):
    write.note("hold stop and up", sort="service-mode")
    write.note("hold stop and down", sort="service-mode", at=LATER)
    binder = binder_of([model.pk])
    assert binder.service_mode.text == "hold stop and down"
    assert binder.notes == []


def test_a_pinned_older_word_on_service_mode_does_not_count_before_the_newest(write, model):
    write.note("hold stop and up", sort="service-mode", pinned=True)
    write.note("hold stop and down", sort="service-mode", at=LATER)
    assert binder_of([model.pk]).service_mode.text == "hold stop and down"


def test_a_binder_without_entries_is_empty(model):
    binder = binder_of([model.pk])
    assert (binder.files, binder.notes, binder.codes, binder.service_mode) == ([], [], [], None)


# --- Codes


def test_a_code_names_what_it_makes_suspect_and_who_says_so(write, model):
    write.code(" e-1 ", components=[ComponentFactory(slug="speed-sensor")], source="manual, p. 12")
    (code,) = error_codes([model.pk])
    assert (code.code, code.code_key, code.source) == ("e-1", "E1", "manual, p. 12")
    assert [component.pk for component in code.components.all()] == ["speed-sensor"]


def test_two_sources_may_say_two_things_of_one_code(write, model):
    write.code("E1")
    write.code("E1", meaning="the belt stands still", source="maker, by phone")
    assert len(error_codes([model.pk])) == 2


def test_the_same_meaning_is_not_written_twice(write):
    write.code("E1")
    with pytest.raises(BinderError, match="written down already"):
        write.code("E-1", meaning="No pulses from the sensor")
    assert ErrorCode.objects.count() == 1


@pytest.mark.parametrize(
    ("words", "sentence"),
    [
        ({"code": " - "}, "at least one letter or digit"),
        ({"meaning": " "}, "Say what the code means"),
        ({"source": ""}, "Say who says so"),
    ],
)
def test_half_a_code_is_refused(write, words, sentence):
    with pytest.raises(BinderError, match=sentence):
        write.code(**words)
    assert not ErrorCode.objects.exists()


def test_a_component_of_another_kind_is_refused_and_nothing_is_written(write):
    with pytest.raises(BinderError, match="not in this kind"):
        write.code(components=[ComponentFactory(slug="return-cord")])
    assert not ErrorCode.objects.exists()


# --- Papers


def test_a_paper_is_kept_with_what_it_is(write, model, person):
    paper = write.paper()
    assert (paper.get_shows_display(), paper.title, paper.added_by) == (
        "manual",
        "Service manual, 2019",
        person,
    )
    assert binder_of([model.pk]).files == [paper]


def test_the_same_paper_is_kept_once(write):
    write.paper()
    with pytest.raises(BinderError, match="as “Service manual, 2019”"):
        write.paper(title="The same again")
    assert StoredFile.objects.count() == 1


def test_a_picture_of_a_diagram_is_a_paper_too(write):
    assert write.paper(picture("PNG"), shows="diagram").file.media_type == "image/jpeg"


def test_a_paper_needs_a_word_on_what_it_is(write):
    with pytest.raises(BinderError, match="what the paper is"):
        write.paper(title=" ")


def test_something_else_is_refused(write):
    with pytest.raises(FileRefusedError, match="neither a PDF nor a picture"):
        write.paper(b"<script>")
    assert not ModelFile.objects.exists()


# --- Taking out


@pytest.mark.parametrize("sort", ["note", "code", "paper"])
def test_what_was_wrong_is_shown_no_longer_but_stays(write, model, person, sort):
    entry = getattr(write, sort)()
    take_out(entry=entry, reason="of another model", by=person, at=LATER)
    binder = binder_of([model.pk])
    assert (binder.files, binder.notes, binder.codes) == ([], [], [])
    assert type(entry).objects.filter(pk=entry.pk).exists()
    assert TakenOut.objects.get().reason == "of another model"


def test_what_was_taken_out_may_be_written_anew(write, person):
    take_out(entry=write.code(), reason="wrong page", by=person, at=LATER)
    take_out(entry=write.paper(), reason="wrong year", by=person, at=LATER)
    assert write.code().pk
    assert write.paper().pk


def test_an_entry_is_taken_out_once_and_with_a_reason(write, person):
    note = write.note()
    with pytest.raises(BinderError, match="what is wrong"):
        take_out(entry=note, reason=" ", by=person, at=LATER)
    take_out(entry=note, reason="no longer true", by=person, at=LATER)
    with pytest.raises(BinderError, match="already"):
        take_out(entry=note, reason="again", by=person, at=LATER)


def test_the_database_wants_exactly_one_entry_to_be_taken_out(write, person):
    words = {"reason": "x", "taken_out_at": LATER, "taken_out_by": person}
    with pytest.raises(IntegrityError), transaction.atomic():
        TakenOut.objects.create(**words)
    with pytest.raises(IntegrityError), transaction.atomic():
        TakenOut.objects.create(note=write.note(), error_code=write.code(), **words)


@pytest.mark.parametrize("table", [BenchNote, NotePin, ErrorCode, ModelFile])
def test_the_binder_only_grows(write, table):
    for entry in (write.note(pinned=True), write.code(), write.paper()):
        assert entry.pk
    with pytest.raises(IntegrityError, match="only grows"), transaction.atomic():
        table.objects.update(id=table.objects.get().pk)


# --- Models that were merged


def test_what_is_written_under_a_merged_name_stands_with_the_model_it_is(write, model):
    merged = MachineModelFactory(number="TR9O", merged_into=model)
    note = write.note(model=merged)
    assert note.model == model
    assert write.code(model=merged).model == model


def test_the_binder_takes_four_queries_however_much_stands_in_it(
    write, model, django_assert_num_queries
):
    for number in range(4):
        write.note(f"note {number}", pinned=number % 2 == 0)
        write.code(f"E{number}", components=[ComponentFactory(slug="speed-sensor")])
        write.paper(pdf(f"paper {number}"), title=f"Paper {number}")
    with django_assert_num_queries(4):
        binder = binder_of([model.pk])
        [str(note.written_by) for note in binder.notes]
        [list(code.components.all()) for code in binder.codes]
        [paper.file.size for paper in binder.files]
