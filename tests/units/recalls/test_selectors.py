from datetime import timedelta

import pytest

from tests.factories.units import (
    MORNING,
    TODAY,
    MachineModelFactory,
    MakerFactory,
    PersonFactory,
    RecallCheckFactory,
    UnitFactory,
)
from tests.units.recalls.ground import load, record
from units.catalogue.models import Unit
from units.catalogue.services.models import merge_model
from units.recalls.models import Recall
from units.recalls.selectors import (
    all_matches,
    match_of,
    matches_of,
    matches_of_recall,
    model_matches,
    models_named_by,
    newest_checks,
    open_matches,
    recalls_that_name_our_makers,
)
from units.recalls.services import decide_match

pytestmark = pytest.mark.django_db


def test_check_of_the_latest_day_counts_whenever_it_was_written_down():
    check = RecallCheckFactory()
    RecallCheckFactory(unit=check.unit, checked_on=TODAY - timedelta(days=9), outcome="fits")
    assert newest_checks([check.unit]) == {check.unit_id: check}


def test_later_record_of_the_same_day_counts():
    check = RecallCheckFactory()
    second = RecallCheckFactory(unit=check.unit, outcome="fits")
    assert newest_checks([check.unit]) == {check.unit_id: second}


def test_machine_never_checked_is_absent():
    assert newest_checks([UnitFactory()]) == {}


def test_checks_of_many_machines_take_one_query(django_assert_num_queries):
    units = [RecallCheckFactory().unit for _ in range(5)]
    with django_assert_num_queries(1):
        checks = newest_checks(units)
        assert len([str(check.recorded_by) for check in checks.values()]) == 5


def corvane(number="TR-90", serial="CV125000", **model):
    return UnitFactory(model=MachineModelFactory(number=number, **model), serial=serial)


def hows(unit) -> list[str]:
    return [match.how for match in matches_of([unit]).get(unit.pk, [])]


def test_a_machine_that_comes_after_the_list_was_loaded_is_compared_too():
    load(record())
    assert hows(corvane()) == ["serial in range"]


def test_a_notice_that_comes_after_the_machine_is_compared_too():
    unit = corvane()
    load(record())
    assert hows(unit) == ["serial in range"]


def test_a_machine_that_no_notice_means_is_absent():
    load(record())
    assert matches_of([corvane("TR-80"), corvane(serial="CV130000")]) == {}


def test_an_open_match_holds_and_shows_the_words_it_rests_on():
    load(record())
    unit = corvane()
    (match,) = matches_of([unit])[unit.pk]
    assert (match.state, match.holds, match.decision) == ("open", True, None)
    assert any("CV120000 through CV129999" in sentence for sentence in match.sentences)


def test_a_machine_is_compared_by_the_numbers_of_merged_models_too():
    old, current = MachineModelFactory(number="TR-90"), MachineModelFactory(number="TR-90X")
    merge_model(model=old, into=current)
    load(record())
    assert hows(UnitFactory(model=current, serial="CV125000")) == ["serial in range"]


def test_the_surest_match_stands_first():
    load(
        record("1", text="Treadmills of every colour."),
        record("2", text="Model TR-90."),
        record("3"),
    )
    assert hows(corvane()) == ["serial in range", "model named", "maker and kind only"]


def test_all_matches_gives_what_each_machine_gives():
    load(record(), record("2", text="Treadmills of every colour."))
    units = [corvane(), corvane("TR-80", "CV1"), corvane("RW-1", "CV2", kind__slug="rower")]
    one_by_one = [match for unit in units for match in matches_of([unit]).get(unit.pk, [])]
    assert {(m.unit, m.recall, m.state) for m in all_matches()} == {
        (m.unit, m.recall, m.state) for m in one_by_one
    }
    assert len(all_matches()) == 3


def test_a_machine_under_a_merged_makers_name_is_among_all_matches():
    old = MachineModelFactory(number="TR-90")
    current = MachineModelFactory(number="HG-1", maker=MakerFactory(name="Holmgate"))
    merge_model(model=old, into=current)
    load(record())
    unit = UnitFactory(model=current, serial="CV125000")
    assert [match.unit for match in open_matches()] == [unit]


def test_what_was_decided_is_not_among_the_open_ones():
    load(record())
    unit = corvane()
    (match,) = open_matches()
    decide_match(
        recall=match.recall, unit=unit, outcome="dismissed", reason="another frame",
        basis=match.basis, by=PersonFactory(), at=MORNING,
    )  # fmt: skip
    assert open_matches() == []
    assert [one.state for one in all_matches()] == ["dismissed"]


def test_a_notice_tells_the_machines_and_models_that_it_means():
    load(record(), record("2", text="Model TR-80."))
    unit, recall = corvane(), Recall.objects.get(key="26645")
    corvane("TR-80", "CV125001")
    assert [match.unit for match in matches_of_recall(recall)] == [unit]
    assert [(one.model, one.how) for one in models_named_by(recall)] == [
        (unit.model, "model named")
    ]
    assert match_of(recall, unit).how == "serial in range"


def test_a_model_that_we_never_had_is_compared_by_its_number():
    load(record())
    model, other = MachineModelFactory(number="TR-95"), MachineModelFactory(number="TR-80")
    recall = Recall.objects.get()
    assert model_matches([model, other]) == {model.pk: [(recall, "model named")]}


def test_notices_that_name_no_maker_of_ours_are_told_apart():
    load(
        record(), record("2", text="Lamps.", Title="Lamps Recalled", Products=[], Manufacturers=[])
    )
    MakerFactory(name="Corvane")
    assert [one.key for one in recalls_that_name_our_makers()] == ["26645"]


@pytest.mark.parametrize("count", [2, 12])
def test_matches_take_three_queries_however_many_machines(count, django_assert_num_queries):
    load(record(), record("2", text="Treadmills."))
    pks = [corvane(f"TR-{90 + number}", "").pk for number in range(count)]
    units = list(Unit.objects.with_identity().filter(pk__in=pks))
    with django_assert_num_queries(3):
        assert len(matches_of(units)) == count


@pytest.mark.parametrize("count", [2, 12])
def test_all_matches_take_few_queries_however_many_machines(count, django_assert_max_num_queries):
    load(record())
    for number in range(count):
        corvane("TR-90" if number == 0 else f"TR-90.{number}", f"CV12{number:04}")
    with django_assert_max_num_queries(8):
        assert all_matches()
