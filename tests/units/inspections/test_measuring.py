"""Measuring tools on their pages, kept readings, and how a machine's measures are shown."""

import uuid
from datetime import timedelta
from decimal import Decimal
from urllib.parse import urlencode

import pytest
from django.db import IntegrityError, transaction
from django.urls import reverse

from tests.factories.units import (
    MORNING,
    InspectionFactory,
    MachineModelFactory,
    MeasureStepFactory,
    PersonFactory,
    UnitFactory,
)
from units.inspections.domain.measures.outcome import Chance, Figure, Outcome, Saying
from units.inspections.domain.measures.tools import TOOLS
from units.inspections.forms import FORMS
from units.inspections.models import MeasureReading, ReadingWithdrawal
from units.inspections.selectors import measured
from units.inspections.selectors.measures import (
    baseline_for,
    chance_words,
    saying_words,
)
from units.inspections.services import (
    InspectionError,
    finish_inspection,
    record_reading,
    record_result,
    withdraw_reading,
)

pytestmark = pytest.mark.django_db

GIVEN = {
    "current": {"loaded": "9.2", "speed": "3", "walker": "176"},
    "friction": {
        "meter": "watts",
        "loaded": "620",
        "idle": "240",
        "speed": "3",
        "walker": "176",
        "origin": "club",
    },
    "incline": {"rise": "5", "base": "50", "stated": "10"},
    "belt-speed": {"length": "118", "turns": "20", "seconds": "45", "shown": "3"},
    "roller-speed": {"rpm": "520", "diameter": "1.9", "shown": "3"},
    "drive-speed": {
        "motor_rpm": "2000",
        "motor_pulley": "1",
        "roller_pulley": "4",
        "diameter": "1.9",
    },
    "speed-range": {"shown_1": "2", "measured_1": "1.9", "shown_2": "6", "measured_2": "5.6"},
    "belt-tension": {"section": "PJ", "ribs": "6", "span": "10", "sound": "90"},
    "supply": {"nominal": "120", "open_volts": "121", "loaded_volts": "112", "amps": "12"},
    "cord": {"gauge": "14", "length": "50", "amps": "12", "volts": "120", "warmth": "167"},
}
# By hand: 380 W x 0.70 over 79.83 kg x 9.80665 x 1.34112 m/s; 5 in 50; 118 in x 20 in 45 s;
# pi x 1.9 in x 520 rpm; a quarter of 2000 rpm; 0.4 of 6 shown; 4 x 0.054 kg/m x 0.254^2 x 90^2;
# 9 V over 12 A; 2 x 12 A x 50 ft of 14 AWG at 75 degrees.
SAYS = {
    "current": ["9.20 ± ", " A", "There is no baseline"],
    "friction": ["0.253 ± ", "Look by hand"],
    "incline": ["10.000 ± ", "5.711 ± ", "It reaches what the model states"],
    "belt-speed": ["2.980 ± ", "The display agrees"],
    "roller-speed": ["2.939 ± ", "The display agrees"],
    "drive-speed": ["2.826 ± ", "500.0 ± "],
    "speed-range": ["6.67 ± ", "off by more than 5 %"],
    "belt-tension": ["112.9 ± ", "maker’s papers"],
    "supply": ["0.750 ± ", "licensed electrician"],
    "cord": ["3.685 ± ", "3.071 ± "],
}


@pytest.fixture
def bench(client, technician):
    client.force_login(technician)
    return client


@pytest.fixture
def unit():
    return UnitFactory()


def tool(slug, **query):
    return f"{reverse('measuring-tool', args=[slug])}?{urlencode(query)}"


def worked(slug, **more):
    return tool(slug, **GIVEN[slug] | {"work": "1"} | more)


def outcome(value=9.2, doubt=0.1, speed=1.34, walker=80.0):
    from uncertainties import ufloat

    return Outcome(Figure("Current", ufloat(value, doubt), "current"), speed=speed, walker=walker)


def keep(unit, person, **words):
    defaults = {
        "tool": TOOLS["current"],
        "outcome": outcome(),
        "inputs": {"loaded": {"given": "9.2", "measure": "A"}},
        "key": uuid.uuid4(),
        "at": MORNING,
    }
    return record_reading(unit=unit, by=person, **defaults | words)


def test_every_tool_has_its_form_and_its_example_here():
    assert TOOLS.keys() == FORMS.keys() == GIVEN.keys() == SAYS.keys()


def test_the_list_names_every_tool_and_keeps_the_machine(bench, unit):
    page = bench.get(reverse("measuring-tools"), {"unit": unit.pk}).content.decode()
    for one in TOOLS.values():
        assert f"{reverse('measuring-tool', args=[one.slug])}?unit={unit.pk}" in page


def test_a_machine_is_offered_the_tools_of_its_kind(bench):
    rower = UnitFactory(model=MachineModelFactory(kind__slug="rower"))
    page = bench.get(reverse("measuring-tools"), {"unit": rower.pk}).content.decode()
    assert reverse("measuring-tool", args=["supply"]) in page
    assert reverse("measuring-tool", args=["friction"]) not in page


@pytest.mark.parametrize("slug", list(TOOLS))
def test_a_tool_opens_empty_and_with_its_cautions(bench, slug):
    answer = bench.get(tool(slug))
    assert answer.status_code == 200
    assert "instructions come first" in answer.content.decode()
    assert answer.context["told"] is None


@pytest.mark.parametrize("slug", list(TOOLS))
def test_a_tool_gives_its_result_in_words(bench, slug):
    answer = bench.get(worked(slug))
    assert answer.status_code == 200
    page = answer.content.decode()
    for words in SAYS[slug]:
        assert words in page
    assert "one standard uncertainty" in page
    assert "Write it to this" not in page


def test_metric_fields_give_the_same_speed(bench):
    given = {"length": "2997.2", "turns": "20", "seconds": "45", "measures": "metric", "work": "1"}
    page = bench.get(tool("belt-speed", **given)).content.decode()
    assert "(mm)" in page
    assert "4.796 ± " in page  # 2.980 mph, for 118 in are 2997.2 mm
    assert "km/h" in page


def test_the_measures_that_somebody_chose_stay(bench):
    bench.get(tool("belt-speed", measures="metric"))
    assert "(mm)" in bench.get(tool("belt-speed")).content.decode()


@pytest.mark.parametrize(
    ("slug", "wrong", "field", "says"),
    [
        ("belt-speed", {"length": "long"}, "length", "Write a number, such as 11.5."),
        ("belt-speed", {"length": ""}, "length", "Measure this and write it down"),
        ("belt-speed", {"seconds": "0"}, "seconds", "above 0"),
        ("belt-speed", {"seconds": "-3"}, "seconds", "above 0"),
        ("belt-speed", {"turns": "NaN"}, "turns", "Write a number, such as 11.5."),
        ("belt-speed", {"length": "1e9"}, "length", "more than any machine has"),
        ("belt-speed", {"length": "1.00001"}, "length", "at most four decimals"),
        ("current", {"loaded": "2", "idle": "3"}, "loaded", "must draw more"),
        ("current", {"then": "7"}, "then_speed", "Say how the baseline was taken"),
        ("friction", {"loaded": "200"}, "loaded", "must draw more"),
        ("friction", {"meter": "amps", "loaded": "7", "idle": "2"}, "volts", "measure the voltage"),
        ("friction", {"meter": "horses"}, "meter", "Select a valid choice"),
        ("friction", {"efficiency": "120"}, "efficiency", "No more than all"),
        ("speed-range", {"measured_2": ""}, "measured_2", "both of the pair"),
        ("supply", {"loaded_volts": "121"}, "open_volts", "shows less than before"),
        ("supply", {"machine_volts": "115"}, "loaded_volts", "less than at the outlet"),
        ("supply", {"gauge": "14"}, "length", "gauge and length both"),
        ("belt-tension", {"ribs": "0"}, "ribs", "greater than or equal to 1"),
        ("belt-tension", {"section": "PX"}, "section", "Select a valid choice"),
        ("cord", {"gauge": "99"}, "gauge", "Select a valid choice"),
    ],
)
def test_bad_input_gets_a_sentence_at_its_field(bench, unit, slug, wrong, field, says):
    answer = bench.get(worked(slug, **wrong, unit=unit.pk))
    assert answer.status_code == 422
    assert says in " ".join(answer.context["form"].errors[field])
    assert "Write it to this machine" not in answer.content.decode()


def test_the_smallest_and_largest_numbers_still_give_a_result_that_can_be_kept(bench, unit):
    tiny = {"loaded": "0.0002", "idle": "0", "speed": "0.0001", "walker": "0.0001"}
    for slug, given in [
        ("friction", {"meter": "watts", **tiny}),
        ("friction", {"meter": "watts", **tiny, "loaded": "20000"}),
        ("belt-speed", {"length": "700", "turns": "9999", "seconds": "0.0001"}),
        ("belt-tension", {"section": "PM", "ribs": "40", "span": "700", "sound": "5000"}),
        ("supply", {**GIVEN["supply"], "amps": "0.0001"}),
    ]:
        address = tool(slug, **given, work="1", unit=unit.pk)
        assert bench.get(address).status_code == 200, slug
        kept = bench.post(address, {"key": str(uuid.uuid4())})
        said = kept.status_code == 422 and "No machine gives so much" in kept.content.decode()
        assert kept.status_code == 302 or said, slug


def test_amperes_at_the_cord_and_at_the_motor_are_read_by_their_own_assumptions(bench):
    given = {"loaded": "7.5", "idle": "2.5", "volts": "120", "speed": "3", "walker": "176"}
    at = {
        meter: bench.get(worked("friction", **given, meter=meter)).context["told"].main[1]
        for meter in ("amps", "motor")
    }
    # 600 W x 0.6 x 0.70 and 600 W x 0.76 over 79.83 kg x 9.80665 x 1.34112 m/s, by hand.
    assert at["amps"].startswith("0.24")
    assert at["motor"].startswith("0.43")


def test_an_efficiency_of_ones_own_takes_the_place_of_the_assumed_one(bench):
    half = bench.get(worked("friction", efficiency="35")).context["told"].main[1]
    assert half.startswith("0.127")  # half of 0.253


@pytest.mark.parametrize(
    ("slug", "says"),
    [
        ("friction", ["new 0.194, worn 0.36", "from 0.3 on", "0.35 from a home, 0.65 from a club"]),
        ("current", ["new 1, worn 1.7", "ammeter: off by at most 0.2 A + 2 %"]),
        (
            "belt-speed",
            ["along the belt: off by at most 0.3937 in + 0.2 %", "counting: exact"],
        ),
        ("cord", ["thermometer: off by at most 3.6 °F"]),
    ],
)
def test_all_that_a_tool_assumes_stands_on_its_page_with_grade_and_source(bench, slug, says):
    """Values of measures.toml, read by hand: 10 mm are 0.3937 in, 2 kelvin 3.6 degrees."""
    page = bench.get(tool(slug)).content.decode().split("What is assumed")[1]
    for words in says:
        assert words in page
    rows = page.count("<li>")
    assert page.count("assumed, not verified") + page.count("read at its source") == rows > 0


def test_a_result_is_written_to_the_machine_once(bench, unit):
    address, key = worked("friction", unit=unit.pk), str(uuid.uuid4())
    for _ in range(2):
        answer = bench.post(address, {"key": key, "note": "warm"})
        assert answer.url == unit.get_absolute_url()
    reading = MeasureReading.objects.get()
    assert (reading.unit, reading.name, reading.note) == (unit, "friction", "warm")
    assert reading.inputs["loaded"] == {"given": "620", "measure": "W"}
    assert (reading.speed, reading.walker) == (Decimal("1.3411"), Decimal("79.83"))
    assert reading.uncertainty > 0


def test_without_a_machine_or_a_right_form_nothing_is_kept(bench, unit):
    key = {"key": str(uuid.uuid4())}
    assert bench.post(worked("friction"), key).status_code == 422
    assert bench.post(worked("friction", loaded="x", unit=unit.pk), key).status_code == 422
    assert bench.post(worked("friction", unit=unit.pk), {"key": "x"}).status_code == 422
    assert not MeasureReading.objects.exists()


@pytest.mark.parametrize("query", [{"unit": "x"}, {"unit": "9" * 30}, {"inspection": "7654321"}])
def test_a_machine_or_inspection_that_is_not_here_is_not_found(bench, query):
    assert bench.get(tool("friction", **query)).status_code == 404


def test_an_unknown_tool_is_not_found(bench):
    assert bench.get(tool("nothing")).status_code == 404


def test_from_an_inspection_it_is_kept_with_both(bench):
    inspection = InspectionFactory(document="J00001")
    address = worked("incline", inspection=inspection.pk)
    assert "Write it to this inspection" in bench.get(address).content.decode()
    answer = bench.post(address, {"key": str(uuid.uuid4())})
    assert answer.url == reverse("inspection", args=[inspection.pk])
    assert MeasureReading.objects.get().inspection == inspection


def test_a_finished_inspection_takes_no_reading(bench, technician):
    inspection = InspectionFactory()
    finish_inspection(inspection=inspection, by=technician, at=MORNING)
    answer = bench.post(worked("incline", inspection=inspection.pk), {"key": str(uuid.uuid4())})
    assert answer.status_code == 422
    assert "finished" in answer.content.decode()
    assert not MeasureReading.objects.exists()


def test_the_database_refuses_a_reading_in_another_machine_s_inspection(unit, technician):
    other = InspectionFactory()
    with pytest.raises(InspectionError, match="another machine"):
        keep(unit, technician, inspection=other)
    words = {"tool": "current", "name": "current", "value": 1, "uncertainty": 0}
    with pytest.raises(IntegrityError, match="machine of its inspection"), transaction.atomic():
        MeasureReading.objects.create(
            unit=unit,
            inspection=other,
            key=uuid.uuid4(),
            taken_at=MORNING,
            taken_by=technician,
            **words,
        )


class TestBaseline:
    def test_the_machine_s_own_newest_goes_before_another_of_its_model(self, unit, technician):
        twin = UnitFactory(model=unit.model, maker=unit.maker)
        keep(twin, technician, is_baseline=True, at=MORNING + timedelta(days=2))
        assert baseline_for(unit).unit == twin
        own = keep(unit, technician, is_baseline=True)
        assert baseline_for(unit) == own

    def test_one_of_a_model_merged_into_this_counts_too(self, unit, technician):
        old = MachineModelFactory(merged_into=unit.model)
        own = keep(UnitFactory(model=old), technician, is_baseline=True)
        assert baseline_for(unit) == own

    def test_another_model_s_and_a_withdrawn_one_do_not_count(self, unit, technician):
        stranger = UnitFactory(model=MachineModelFactory())
        keep(stranger, technician, is_baseline=True)
        gone = keep(unit, technician, is_baseline=True)
        withdraw_reading(reading=gone, reason="wrong walker", by=technician, at=MORNING)
        keep(unit, technician)
        assert baseline_for(unit) is None

    def test_the_form_begins_with_it(self, bench, unit, technician):
        inputs = {
            "loaded": {"given": "6.1", "measure": "A"},
            "idle": {"given": "2", "measure": "A"},
            "speed": {"given": "3", "measure": "mph"},
            "walker": {"given": "80", "measure": "kg"},
        }
        keep(unit, technician, is_baseline=True, inputs=inputs)
        answer = bench.get(tool("current", unit=unit.pk))
        start = answer.context["form"].initial
        assert (start["then"], start["then_idle"]) == ("6.1", "2")
        assert (start["speed"], start["then_walker"]) == ("3", "176.4")
        assert "The baseline is that of" in answer.content.decode()

    THEN = {"then": "6", "then_idle": "2", "then_speed": "3", "then_walker": "176", "idle": "2"}

    @pytest.mark.parametrize(
        ("more", "says"),
        [
            ({}, "Belt and deck are worn"),
            ({"loaded": "6.1"}, "That belt and deck are worn is"),
            ({"loaded": "7.4"}, "not settled"),
            ({"then_speed": "5"}, "cannot be compared"),
            ({"then_walker": "150"}, "cannot be compared"),
            ({"idle": ""}, "Without the idle readings"),
        ],
    )
    def test_what_a_reading_says_beside_it(self, bench, more, says):
        """Common practice, no published source: 1.8 times the friction, 1.02, 1.35."""
        page = bench.get(worked("current", **self.THEN | more)).content.decode()
        assert says in page

    def test_a_baseline_can_be_ticked(self, bench, unit):
        bench.post(worked("current", unit=unit.pk), {"key": str(uuid.uuid4()), "is_baseline": "on"})
        assert MeasureReading.objects.get().is_baseline


class TestMeasured:
    @pytest.fixture
    def inspection(self, unit, technician):
        """The current as a step of an inspection asks for it: 11 A on arrival."""
        inspection = InspectionFactory(unit=unit, document="J00001")
        step = MeasureStepFactory(
            protocol=inspection.protocol, position=1, key="current", title="Current under load"
        )
        record_result(inspection=inspection, step=step, value=11, by=technician, at=MORNING)
        return inspection

    def test_steps_and_tools_stand_in_one_course(self, unit, technician, inspection):
        later = MORNING + timedelta(days=400)
        keep(unit, technician, at=later)
        (series,) = measured(unit)
        assert series.title == "Current under load"
        assert [point.words for point in series.points] == ["11 A", "9.20 ± 0.10 A"]
        assert series.change == "-1.8 A"
        assert not series.unlike
        assert [spot.x for spot in series.chart.spots] == [56, 386]

    def test_before_and_after_are_those_of_one_document(self, unit, technician, inspection):
        keep(unit, technician, at=MORNING + timedelta(days=1))
        keep(unit, technician, inspection=inspection, at=MORNING + timedelta(hours=1))
        assert [len(one.points) for one in measured(unit, "J00001")] == [2]
        assert measured(unit, "J00009") == []

    def test_readings_taken_otherwise_are_said_to_be(self, unit, technician):
        keep(unit, technician)
        keep(unit, technician, outcome=outcome(speed=2.0))
        assert measured(unit)[0].unlike

    def test_a_withdrawn_reading_counts_no_more_and_is_shown_struck_with_its_reason(
        self, bench, unit, technician
    ):
        reading = keep(unit, technician)
        address = reverse("measure-withdraw", args=[reading.pk])
        assert "9.2 A" in bench.get(address).content.decode()
        assert bench.post(address, {"reason": " "}).status_code == 422
        assert bench.post(address, {"reason": "another machine"}).status_code == 302
        assert bench.post(address, {"reason": "again"}).status_code == 422
        assert ReadingWithdrawal.objects.get().reason == "another machine"
        (series,) = measured(unit)
        assert (series.points, len(series.withdrawn)) == ([], 1)
        measures = reverse("machine-measures", args=[unit.pk])
        page = bench.get(measures).content.decode()
        assert "<s>9.20 ± 0.10 A</s>" in page
        assert "Does not count: another machine" in page
        assert address not in page
        keep(unit, technician, outcome=outcome(8.1), at=MORNING + timedelta(days=1))
        (series,) = measured(unit)
        assert (len(series.points), len(series.rows), series.chart) == (1, 2, None)
        page = bench.get(measures).content.decode()
        assert page.index("<s>9.20") < page.index("8.10 ± 0.10 A</span>")

    def test_a_speed_is_shown_in_the_shop_s_measure(self, unit, technician):
        from uncertainties import ufloat

        speed = Outcome(Figure("Speed", ufloat(1.34112, 0.00447), "speed"))
        keep(unit, technician, tool=TOOLS["belt-speed"], outcome=speed)
        assert measured(unit)[0].first.words == "3.000 ± 0.010 mph"
        assert measured(unit, system="metric")[0].first.words == "4.828 ± 0.016 km/h"

    def test_the_page_draws_the_course_and_a_table_behind_it(self, bench, unit, technician):
        keep(unit, technician)
        keep(unit, technician, outcome=outcome(6.3), at=MORNING + timedelta(days=30))
        page = bench.get(reverse("machine-measures", args=[unit.pk])).content.decode()
        assert 'role="img" aria-label="Current under load: from 9.20 ± 0.10 A' in page
        assert "<polyline" in page
        assert page.count("Withdraw") == 2
        assert "-2.9 A" in page

    def test_the_part_alone_is_fetched_into_other_pages(self, bench, unit):
        answer = bench.get(reverse("machine-measures", args=[unit.pk]), HTTP_HX_REQUEST="true")
        page = answer.content.decode()
        assert "Nothing was measured yet" in page
        assert "<h1" not in page

    def test_a_machine_with_many_readings_takes_no_more_queries(
        self, bench, unit, technician, django_assert_max_num_queries, inspection
    ):
        for day in range(30):
            keep(unit, technician, at=MORNING + timedelta(days=day), inspection=inspection)
        with django_assert_max_num_queries(12):
            bench.get(reverse("machine-measures", args=[unit.pk]))
        with django_assert_max_num_queries(12):
            bench.get(worked("current", unit=unit.pk))


def test_the_front_desk_sees_measures_but_takes_none(client, unit):
    client.force_login(PersonFactory(seats=["front desk"]))
    page = client.get(reverse("machine-measures", args=[unit.pk])).content.decode()
    assert "Measure something" not in page
    assert client.get(reverse("measuring-tools")).status_code == 403


@pytest.mark.parametrize(
    ("share", "words"),
    [
        (1.0, "almost certain (over 99 %)"),
        (0.85, "very likely (85 %)"),
        (0.5, "about even (50 %)"),
        (0.02, "unlikely (2 %)"),
        (0.0, "almost ruled out (under 1 %)"),
    ],
)
def test_a_chance_is_never_nothing_and_never_all(share, words):
    assert chance_words(share) == words


def test_a_saying_takes_figures_chances_and_words():
    saying = Saying(
        "%(a)s, %(b)s, %(c)s", {"a": Figure("", 0.5, "share"), "b": Chance(0.5), "c": "x"}
    )
    assert saying_words(saying, "us") == "50 %, about even (50 %), x"
