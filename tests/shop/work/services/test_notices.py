import pytest

from shop.work.services.notices import draft_notice
from tests.shop.work.bench import a_job, looked_at

pytestmark = pytest.mark.django_db


def test_an_unsafe_notice_names_the_faults_and_says_not_to_use_it(technician):
    job = a_job()
    looked_at(job, technician, frame="cracked")
    text = draft_notice(job, "unsafe")
    assert text.startswith("This machine is not safe to use.")
    assert "We found faults at: frame." in text
    assert text.endswith("until it has been repaired.")


def test_a_declined_notice_does_not_call_the_machine_unsafe(technician):
    job = a_job()
    looked_at(job, technician, deck="grooved")
    text = draft_notice(job, "declined")
    assert "declined" in text
    assert "not safe" not in text


def test_the_cautions_of_what_was_found_stand_in_the_notice(technician):
    job = a_job()
    looked_at(job, technician, deck="grooved")
    assert "nplug" in draft_notice(job, "declined")


def test_a_machine_that_nobody_looked_at_has_a_notice_without_faults():
    assert "found" not in draft_notice(a_job(), "unsafe")
