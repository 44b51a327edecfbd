import pytest

from shop.work.domain.closing import FinalTest
from shop.work.domain.waiting import JobFacts, Waits, waits_for

# The order of a job's life as the trade lives it: common practice, no published source.
TABLE = [
    (JobFacts("logged"), Waits.INSPECTION),
    (JobFacts("logged", inspected=True), Waits.ESTIMATE),
    (JobFacts("logged", inspected=True, drafted=True), Waits.OFFER),
    (JobFacts("logged", drafted=True), Waits.OFFER),
    (JobFacts("in-work", drafted=True, parts_missing=("belt",)), Waits.OFFER),
    (JobFacts("estimated"), Waits.ANSWER),
    (JobFacts("estimated", said_no=True), Waits.REFUSED),
    (JobFacts("approved", parts_missing=("belt",)), Waits.PARTS),
    (JobFacts("approved", parts_to_take=True), Waits.START),
    (JobFacts("in-work", parts_missing=("belt",), parts_to_take=True), Waits.PARTS),
    (JobFacts("in-work", parts_to_take=True, time_written=True), Waits.TAKING),
    (JobFacts("in-work"), Waits.WORK),
    (JobFacts("in-work", time_written=True), Waits.TEST),
    (JobFacts("in-work", time_written=True, test=FinalTest.UNFINISHED), Waits.TEST),
    (JobFacts("in-work", time_written=True, test=FinalTest.OLDER), Waits.TEST),
    (JobFacts("in-work", time_written=True, test=FinalTest.FAILED), Waits.TEST_FAILED),
    (JobFacts("in-work", time_written=True, test=FinalTest.PASSED), Waits.CLOSING),
    (JobFacts("closed"), Waits.HAND_BACK),
    (JobFacts("handed-back"), Waits.NOTHING),
    (JobFacts("cancelled"), Waits.NOTHING),
]


@pytest.mark.parametrize(("facts", "expected"), TABLE)
def test_a_job_waits_for_the_next_thing_of_its_life(facts, expected):
    assert waits_for(facts) is expected
