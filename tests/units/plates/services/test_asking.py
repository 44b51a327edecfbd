from datetime import timedelta

import pytest
from django.db import transaction
from django_tasks_db.models import DBTaskResult

from tests.factories.pictures import picture, upload
from tests.factories.units import (
    MORNING,
    PersonFactory,
    PlateReadingFactory,
    PlateRecordFactory,
    PlateWalkFactory,
)
from units.files.models import StoredFile
from units.files.services import FileRefusedError
from units.plates.models import PlateReading, PlateWalk
from units.plates.services import PlateError, ask_again, ask_reading, asking, set_aside

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("own_storage")]


def ask(photo, **more) -> PlateReading:
    return ask_reading(upload=photo, by=PersonFactory(), at=MORNING, **more)


def queued() -> list[str]:
    return [task.args_kwargs["args"][0] for task in DBTaskResult.objects.all()]


def test_photo_waits_for_the_reader_and_is_queued_once(photo):
    reading = ask(photo())
    assert (reading.state, reading.asked_at, reading.walk) == ("waiting", MORNING, None)
    assert queued() == [str(reading.pk)]


def test_photo_is_kept_larger_than_other_pictures():
    reading = ask(upload(picture(size=(4500, 30))))
    assert reading.photo.width == 4096


def test_photo_that_is_refused_leaves_nothing(own_storage):
    with pytest.raises(FileRefusedError, match="not a picture"):
        ask(upload(b"<html>"))
    assert not PlateReading.objects.exists()
    assert queued() == []
    assert not own_storage.exists()


def test_what_is_undone_is_not_queued(photo):
    with transaction.atomic():
        ask(photo())
        transaction.set_rollback(True)
    assert queued() == []


def test_same_photo_again_gives_its_reading_and_is_stored_once(photo, own_storage):
    first = ask(photo())
    kept = sorted(own_storage.rglob("*.jpg"))
    assert ask(photo(name="again.jpg")) == first
    assert queued() == [str(first.pk)]
    assert sorted(own_storage.rglob("*.jpg")) == kept


def test_same_photo_is_read_anew_once_its_first_reading_is_confirmed(photo):
    first = ask(photo())
    PlateRecordFactory(reading=first, photo=first.photo)
    assert ask(photo()) != first


def test_same_photo_on_a_walk_is_one_row_even_when_it_is_confirmed(photo):
    walk = PlateWalkFactory()
    first = ask(photo(), walk=walk)
    PlateRecordFactory(reading=first, photo=first.photo)
    assert ask(photo(), walk=walk) == first


def test_same_photo_on_another_walk_is_a_row_of_that_walk(photo):
    loose, one, two = ask(photo()), PlateWalkFactory(), PlateWalkFactory()
    readings = {loose, ask(photo(), walk=one), ask(photo(), walk=two)}
    assert {reading.walk for reading in readings} == {None, one, two}


def test_second_half_of_a_double_press_keeps_no_second_file(photo, own_storage, monkeypatch):
    """The first half ends while the second one draws its picture."""
    stored = []

    def store_while_the_other_ends(**words):
        monkeypatch.setattr(asking, "store_picture", real)
        stored.append(ask(photo()))
        return real(**words)

    real = asking.store_picture
    monkeypatch.setattr(asking, "store_picture", store_while_the_other_ends)
    assert ask(photo()) == stored[0]
    assert StoredFile.objects.count() == 1
    assert len(list(own_storage.rglob("*.jpg"))) == 2


def test_unread_photo_waits_again_for_whoever_asked_last():
    reading = PlateReadingFactory(state="unread", trouble="died", ended_at=MORNING)
    later, by = MORNING + timedelta(hours=1), PersonFactory()
    again = ask_again(reading=reading, by=by, at=later)
    assert (again.state, again.trouble, again.ended_at) == ("waiting", "", None)
    assert (again.asked_at, again.asked_by) == (later, by)
    assert queued() == [str(reading.pk)]


@pytest.mark.parametrize("state", ["waiting", "reading"])
def test_asking_again_while_it_waits_changes_nothing(state):
    reading = PlateReadingFactory(state=state)
    assert ask_again(reading=reading, by=PersonFactory(), at=MORNING).state == state
    assert queued() == []


def test_photo_that_was_read_is_not_read_again():
    reading = PlateReadingFactory(read=True)
    with pytest.raises(PlateError, match="has been read already"):
        ask_again(reading=reading, by=PersonFactory(), at=MORNING)


def test_a_photo_that_nobody_waits_for_lets_the_others_go_first(photo):
    later = ask(photo(width=170), urgent=False)
    soon = ask(photo(width=180))
    tasks = DBTaskResult.objects.ready()
    assert [task.args_kwargs["args"][0] for task in tasks] == [str(soon.pk), str(later.pk)]


def test_a_photo_set_aside_waits_no_more_but_may_still_be_confirmed(photo):
    reading = ask(photo())
    by = PersonFactory()

    first = set_aside(reading=reading, by=by, at=MORNING)
    again = set_aside(reading=reading, by=PersonFactory(), at=MORNING + timedelta(hours=1))

    assert again == first
    assert not PlateReading.objects.unconfirmed().exists()
    PlateRecordFactory(reading=reading)


def test_a_confirmed_photo_is_not_set_aside():
    reading = PlateRecordFactory(reading=PlateReadingFactory()).reading

    with pytest.raises(PlateError, match="already"):
        set_aside(reading=reading, by=PersonFactory(), at=MORNING)


def test_a_walk_whose_photos_are_confirmed_or_set_aside_is_done():
    walk = PlateWalkFactory()
    kept, other = PlateReadingFactory(walk=walk), PlateReadingFactory(walk=walk)
    PlateRecordFactory(reading=kept)
    assert PlateWalk.objects.open().get() == walk

    set_aside(reading=other, by=PersonFactory(), at=MORNING)

    assert not PlateWalk.objects.open().exists()
