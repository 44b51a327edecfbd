from datetime import timedelta

import pytest

from tests.factories.units import (
    MORNING,
    MachineModelFactory,
    MakerFactory,
    PlateReadingFactory,
    PlateRecordFactory,
    PlateWalkFactory,
    StoredFileFactory,
    UnitFactory,
)
from units.plates.selectors import (
    knowledge,
    loose_readings,
    newest_plates,
    open_walks,
    reading_page,
    readings_of,
    situation_of,
    twins_among,
    waiting_for_a_look,
    walk_row,
    walk_rows,
)

pytestmark = pytest.mark.django_db


def test_newest_reading_of_each_machine_is_given():
    plate = PlateRecordFactory()
    newer = PlateRecordFactory(unit=plate.unit, confirmed_at=MORNING + timedelta(days=1))
    other, without = PlateRecordFactory(), UnitFactory()
    assert newest_plates([plate.unit, other.unit, without]) == {
        plate.unit_id: newer,
        other.unit_id: other,
    }


def test_readings_of_many_machines_take_one_query(django_assert_num_queries):
    units = [PlateRecordFactory().unit for _ in range(5)]
    with django_assert_num_queries(1):
        plates = newest_plates(units)
        assert [str(plate.confirmed_by) for plate in plates.values() if plate.photo.path]


def test_reader_is_told_makers_models_and_confirmed_serials_newest_first():
    model = MachineModelFactory(number="TM-9")
    first = PlateRecordFactory(unit=UnitFactory(model=model, serial="CV1"))
    PlateRecordFactory(
        unit=UnitFactory(model=model, serial="CV2"), confirmed_at=MORNING + timedelta(days=1)
    )
    PlateRecordFactory(unit=first.unit, serial_text="")
    MakerFactory(name="Holmgate")
    known = knowledge()
    assert known.makers == ("Corvane", "Holmgate")
    assert known.models == (("Corvane", "TM-9"),)
    assert known.serials == (("Corvane", "CV2"), ("Corvane", "CV1"))


def test_model_only_typed_once_teaches_the_reader_nothing():
    merged_into = MachineModelFactory(number="A-1")
    MachineModelFactory(number="A-2", confirmed=False)
    MachineModelFactory(number="A-3", merged_into=merged_into)
    seen = MachineModelFactory(number="A-4", confirmed=False)
    for _ in range(2):
        PlateRecordFactory(unit=UnitFactory(model=seen))
    assert [number for _maker, number in knowledge().models] == ["A-1", "A-4"]


def test_corrections_by_people_are_counted_by_character():
    for changed in ({"serial": ["CVO1", "CV01"]}, {"model": ["TO", "T0"], "made": ["O", "0"]}, {}):
        PlateRecordFactory(changed=changed)
    PlateRecordFactory(changed={"serial": ["CV", "CV1"]})
    assert knowledge().misread == {("O", "0"): 2}


def test_knowledge_takes_three_queries_however_much_there_is(django_assert_num_queries):
    for _ in range(5):
        PlateRecordFactory(changed={"serial": ["O", "0"]})
    with django_assert_num_queries(3):
        knowledge()


def ended(**more):
    return PlateReadingFactory(read=True, **more)


def test_walk_is_open_until_every_photo_is_confirmed():
    new, half, done = (PlateWalkFactory(place=place) for place in ("new", "half", "done"))
    for walk in (half, done):
        PlateRecordFactory(reading=ended(walk=walk))
    ended(walk=half)
    PlateReadingFactory(walk=half)
    walks = {walk.place: (walk.photos, walk.ended, walk.confirmed) for walk in open_walks()}
    assert walks == {"new": (0, 0, 0), "half": (3, 2, 1)}
    assert new.place in walks


def test_photos_of_a_walk_come_as_they_were_sent_in_one_query(django_assert_num_queries):
    walk = PlateWalkFactory()
    times = [MORNING + timedelta(minutes=place) for place in (2, 0, 1)]
    sent = [ended(walk=walk, asked_at=at) for at in times]
    PlateRecordFactory(reading=sent[0])
    ended()
    with django_assert_num_queries(1):
        rows = readings_of(walk)
        assert [str(row.photo) for row in rows] == ["plate.jpg"] * 3
        assert str(rows[2].record.unit.model.maker) == "Corvane"
    assert rows == [sent[1], sent[2], sent[0]]


def test_loose_photos_are_those_of_no_walk_that_nobody_confirmed():
    loose = PlateReadingFactory()
    ended(walk=PlateWalkFactory())
    PlateRecordFactory(reading=ended())
    assert list(loose_readings()) == [loose]


def test_photos_that_wait_for_a_person_are_counted():
    PlateReadingFactory()
    ended()
    ended(walk=PlateWalkFactory())
    PlateReadingFactory(state="unread", trouble="died")
    PlateRecordFactory(reading=ended())
    assert waiting_for_a_look() == 3


def test_page_knows_the_machine_of_the_serial_and_others_of_the_same_serial():
    unit = UnitFactory(model=MachineModelFactory(number="TM-9"), serial="CV1")
    other = UnitFactory(
        model=MachineModelFactory(maker=MakerFactory(name="Holmgate")), serial="CV1"
    )
    page = reading_page(ended(texts={"maker": "CORVANE", "model": "tm 9", "serial": "cv-1"}))
    assert (page.known_unit, page.other_units, page.catalogued) == (unit, [other], unit.model)


def test_page_of_a_new_machine_knows_nothing():
    page = reading_page(ended(texts={"maker": "", "model": "", "serial": ""}))
    assert (page.known_unit, page.other_units, page.catalogued) == (None, [], None)


def test_page_of_a_merged_model_shows_the_one_it_was_merged_into():
    into = MachineModelFactory(number="TM-9")
    MachineModelFactory(number="TM-9X", merged_into=into)
    assert reading_page(ended(texts={"model": "TM-9X"})).catalogued == into


def test_page_tells_what_became_of_the_same_photo():
    photos = [StoredFileFactory(original_digest="a" * 64) for _ in range(3)]
    record = PlateRecordFactory(photo=photos[0])
    twin = ended(photo=photos[1])
    reading = ended(photo=photos[2])
    own = PlateRecordFactory(reading=reading, photo=photos[2])
    page = reading_page(reading)
    assert (page.same_photo, page.same_photo_readings) == ([record], [twin])
    assert own not in page.same_photo


def test_page_of_a_waiting_photo_has_no_proposal():
    page = reading_page(PlateReadingFactory())
    assert (page.proposal, page.known_unit, page.catalogued) == (None, None, None)


def test_page_takes_four_queries(django_assert_num_queries):
    reading = ended()
    for _ in range(3):
        PlateRecordFactory(photo=StoredFileFactory(original_digest=reading.photo.original_digest))
    with django_assert_num_queries(4):
        page = reading_page(reading)
        assert [str(one.unit.model.maker) for one in page.same_photo] == ["Corvane"] * 3


def test_photos_of_one_serial_are_noticed_as_twins():
    one, two = ended(texts={"serial": "CV 1"}), ended(texts={"serial": "cv1"})
    others = [ended(texts={"maker": "Holmgate", "serial": "CV1"}), ended(texts={"serial": ""})]
    assert twins_among([one, two, *others, PlateReadingFactory()]) == {"CORVANE CV1": [one, two]}


@pytest.mark.parametrize(
    ("state", "seconds", "situation"),
    [
        ({}, 0, "waiting"),
        ({"state": "reading"}, 20, "waiting"),
        ({"state": "reading"}, 21, "slow"),
        ({"state": "unread", "trouble": "died"}, 60, "unread"),
        ({"read": True, "read_as": "look"}, 60, "look"),
    ],
)
def test_what_there_is_to_say_of_a_photo(state, seconds, situation):
    reading = PlateReadingFactory(**state)
    assert situation_of(reading, MORNING + timedelta(seconds=seconds)) == situation


def test_of_a_confirmed_photo_nothing_else_is_said():
    reading = PlateRecordFactory(reading=ended()).reading
    assert situation_of(reading, MORNING) == "confirmed"


def test_rows_of_a_walk_come_as_sent_in_three_queries(django_assert_num_queries):
    unit = UnitFactory(model=MachineModelFactory(number="TM-9"), serial="CV1")
    walk = PlateWalkFactory()
    texts = [("CV1", 1), ("CV2", 0), ("cv-2", 2), ("CV3", 3)]
    for serial, minute in texts:
        at = MORNING + timedelta(minutes=minute)
        ended(walk=walk, asked_at=at, texts={"model": "TM-9", "serial": serial})
    PlateReadingFactory(walk=walk, asked_at=MORNING + timedelta(minutes=4))
    with django_assert_num_queries(3):
        rows = walk_rows(walk)
        assert str(rows[1].known_unit) == "Corvane TM-9 CV1"
    assert [row.place for row in rows] == [1, 2, 3, 4, 5]
    assert [row.known_unit for row in rows] == [None, unit, None, None, None]
    assert [row.twins for row in rows] == [[3], [], [1], [], []]
    assert [row.can_be_taken for row in rows] == [False, True, False, True, False]
    assert rows[-1].catalogued is None


def test_a_row_that_is_not_sure_cannot_be_taken_by_one_press():
    MachineModelFactory(number="TM-9")
    texts = {"model": "TM-9", "volts": "120"}
    reading = ended(walk=PlateWalkFactory(), texts=texts, read_as="look")
    row = walk_row(reading)
    assert (row.can_be_taken, row.facts) == (False, [])


def test_a_sure_row_takes_its_supply_along():
    reading = ended(walk=PlateWalkFactory(), texts={"volts": "120"})
    assert walk_row(reading).facts == [("volts", "120")]
