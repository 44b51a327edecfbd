import uuid
from decimal import Decimal

import pytest
from django.urls import reverse
from django.utils import timezone

from shop.work.models import Estimate, EstimateLine, PartUse, TimeEntry
from tests.factories.parts import PartFactory
from tests.factories.units import ComponentFactory
from tests.shop.work.bench import a_job, in_work, later, looked_at, stocked

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("rules")]


@pytest.fixture
def bench(client, technician):
    client.force_login(technician)
    return client


@pytest.fixture
def job(technician):
    job = a_job()
    job.belt = in_work(job, technician)
    return job


def at(name, job, *args):
    return reverse(name, args=[job.number, *args])


def taking(**other):
    return {"key": uuid.uuid4(), "line": "", "part": "", "quantity": ""} | other


def line_of(job):
    return EstimateLine.objects.get(estimate__job=job, line_class="part")


def test_a_part_is_taken_by_its_line(bench, job):
    answer = bench.post(at("part-take", job), taking(line=line_of(job).pk), follow=True)
    assert "from bin A1" in answer.content.decode()
    assert PartUse.objects.get().line == line_of(job)


def test_what_is_still_to_take_of_a_line_is_taken_by_default(bench, job):
    stocked(job.belt, "5")
    Estimate.objects.update(offered_at=None, offered_by=None)
    EstimateLine.objects.filter(pk=line_of(job).pk).update(quantity=Decimal(3), unit_price=1)
    bench.post(at("part-take", job), taking(line=line_of(job).pk, quantity="1"))
    assert "2 × " in bench.get(at("part-take", job)).content.decode()
    bench.post(at("part-take", job), taking(line=line_of(job).pk))
    assert [use.quantity for use in PartUse.objects.all()] == [1, 2]


def test_a_part_is_taken_by_its_number(bench, job):
    bench.post(at("part-take", job), taking(part=job.belt.number.lower()))
    use = PartUse.objects.get()
    assert (use.move.part, use.quantity, use.line) == (job.belt, Decimal(1), None)


def test_a_double_press_takes_one_part(bench, job):
    stocked(job.belt, "3")
    press = taking(part=job.belt.number)
    for _press in range(2):
        answer = bench.post(at("part-take", job), press, follow=True)
    assert "This form was sent before" in answer.content.decode()
    assert PartUse.objects.count() == 1


def test_a_double_press_for_a_line_is_told_the_same_though_nothing_of_the_line_is_left(bench, job):
    press = taking(line=line_of(job).pk)
    for _press in range(2):
        answer = bench.post(at("part-take", job), press, follow=True)
    assert answer.redirect_chain == [(reverse("job", args=[job.number]), 302)]
    assert "This form was sent before" in answer.content.decode()
    assert PartUse.objects.count() == 1


def test_the_key_of_another_jobs_part_takes_nothing(bench, job, technician):
    other = a_job()
    in_work(other, technician)
    press = taking(line=line_of(other).pk)
    bench.post(at("part-take", other), press)
    assert bench.post(at("part-take", job), press).status_code == 422
    assert PartUse.objects.get().job == other


@pytest.mark.parametrize(
    ("said", "sentence"),
    [
        ({}, "Choose a line, or give the number of a part."),
        ({"part": "ZZ-9"}, "No part has the number ZZ-9"),
        ({"quantity": "-1"}, "greater than or equal to 0"),
    ],
)
def test_a_wrong_taking_is_told_at_the_field(bench, job, said, sentence):
    answer = bench.post(at("part-take", job), taking(**said))
    assert answer.status_code == 422
    assert sentence in answer.content.decode()
    assert not PartUse.objects.exists()


def test_more_than_lies_there_is_told_and_nothing_is_taken(bench, job):
    answer = bench.post(at("part-take", job), taking(line=line_of(job).pk, quantity="2"))
    assert answer.status_code == 422
    assert "On the shelf: A1: 1" in answer.content.decode()


def test_a_part_beyond_the_yes_offers_a_new_version(bench, job):
    motor = PartFactory(component=ComponentFactory(slug="drive-motor"))
    stocked(motor, cost="400")
    answer = bench.post(at("part-take", job), taking(part=motor.number))
    assert answer.status_code == 422
    text = answer.content.decode()
    assert "Make a new version of the estimate and ask." in text
    assert at("estimate-make", job) in text


def test_a_line_of_another_job_cannot_be_chosen(bench, job, technician):
    other = a_job()
    in_work(other, technician)
    answer = bench.post(at("part-take", job), taking(line=line_of(other).pk))
    assert answer.status_code == 422
    assert not PartUse.objects.exists()


def test_a_line_that_is_served_is_not_offered_again(bench, job):
    bench.post(at("part-take", job), taking(line=line_of(job).pk))
    assert 'name="line"' not in bench.get(at("part-take", job)).content.decode()


def test_a_part_is_put_back_once(bench, job):
    bench.post(at("part-take", job), taking(line=line_of(job).pk))
    back = at("part-put-back", job, PartUse.objects.get().pk)
    assert "back on the shelf" in bench.post(back, follow=True).content.decode()
    assert "put this back already" in bench.post(back, follow=True).content.decode()


def timing(**other):
    return {
        "key": uuid.uuid4(),
        "minutes": "45",
        "worked_on": timezone.localdate().isoformat(),
        "note": "belt fitted",
    } | other


def test_time_is_written_by_whoever_is_signed_in(bench, job, technician):
    bench.post(at("time-add", job), timing())
    entry = TimeEntry.objects.get()
    assert (entry.technician, entry.minutes, entry.note) == (technician, 45, "belt fitted")


def test_a_double_press_writes_time_once(bench, job):
    press = timing()
    for _press in range(2):
        answer = bench.post(at("time-add", job), press, follow=True)
    assert "This form was sent before" in answer.content.decode()
    assert TimeEntry.objects.count() == 1


@pytest.mark.parametrize(
    ("said", "sentence"),
    [
        ({"minutes": "0"}, "greater than or equal to 1"),
        ({"minutes": "an hour"}, "Enter a whole number"),
        ({"worked_on": "2199-01-01"}, "still to come"),
        ({"worked_on": "2020-01-01"}, "cannot be older"),
    ],
)
def test_wrong_time_is_told_and_not_kept(bench, job, said, sentence):
    answer = bench.post(at("time-add", job), timing(**said))
    assert answer.status_code == 422
    assert sentence in answer.content.decode()
    assert not TimeEntry.objects.exists()


def test_the_time_page_says_when_a_passed_test_would_be_spoiled(bench, job, technician):
    looked_at(job, technician, later(70), occasion="final")
    assert "tested again" in bench.get(at("time-add", job)).content.decode()


def test_work_is_started_once(bench, job):
    answer = bench.post(at("work-start", job), follow=True)
    assert "is in work: Kim Hale" in answer.content.decode()


@pytest.mark.parametrize("name", ["part-take", "time-add"])
def test_the_pages_of_the_bench_take_few_queries(bench, job, name, django_assert_max_num_queries):
    with django_assert_max_num_queries(12):
        assert bench.get(at(name, job)).status_code == 200


@pytest.mark.parametrize("name", ["part-take", "time-add", "work-start"])
def test_the_front_desk_does_not_work_at_the_bench(client, clerk, job, name):
    client.force_login(clerk)
    assert client.post(at(name, job), timing()).status_code == 403


def test_a_part_that_is_not_on_the_estimate_raises_the_question_at_once(client, technician, rules):
    job = a_job()
    in_work(job, technician)
    screw = PartFactory(component=ComponentFactory(slug="fan"))
    stocked(screw, cost="2")
    client.force_login(technician)
    said = {"key": uuid.uuid4(), "part": screw.number, "quantity": "1"}
    page = client.post(reverse("part-take", args=[job.number]), said, follow=True)
    text = page.content.decode()
    assert "not so many of it. It is within what was agreed" in text
    assert "A part was used that is not on the estimate, or not so many of it." in text
