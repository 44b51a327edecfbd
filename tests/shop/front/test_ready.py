from threading import Event

import pytest
from django.db import DatabaseError
from django.utils import timezone

from shop.front.ready import Ready

SOON = 0.01  # seconds
PATIENCE = 10
# Its thread opens no connection here, but closes the one it might have.
pytestmark = pytest.mark.django_db


class Days:
    """What is done for a day: told which, and in trouble for the first so many times."""

    def __init__(self, troubles=0):
        self.told, self.troubles, self.twice = [], troubles, Event()

    def __call__(self, day):
        self.told.append(day)
        if len(self.told) > 1:
            self.twice.set()
        if len(self.told) <= self.troubles:
            raise DatabaseError("database is locked")


def test_it_prepares_today_again_and_again_until_the_server_ends():
    days = Days()
    with Ready(print, days, SOON):
        assert days.twice.wait(PATIENCE)
    assert set(days.told) == {timezone.localdate()}
    done = len(days.told)
    assert not Event().wait(5 * SOON)
    assert len(days.told) == done


def test_it_ends_at_once_while_it_waits_for_the_next_time():
    days = Days()
    with Ready(print, days, pause=3600):
        pass
    assert len(days.told) <= 1


def test_a_database_in_trouble_is_told_and_tried_again():
    days, said = Days(troubles=1), []
    with Ready(said.append, days, SOON):
        assert days.twice.wait(PATIENCE)
    assert said == ["The day's odds could not be learnt yet: database is locked"]
