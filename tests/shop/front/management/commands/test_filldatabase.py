from io import StringIO

import pytest
from django.core.management import CommandError, call_command

from parts.answers.models import Answer
from tests.factories.units import UnitFactory

pytestmark = pytest.mark.django_db
FEW = {"models": 16, "parts": 40, "answers": 50, "moves": 60}


def run(**changes) -> str:
    out = StringIO()
    call_command("filldatabase", stdout=out, **FEW | changes)
    return out.getvalue()


def test_the_command_tells_how_far_it_is():
    said = run()
    assert "models: 16" in said
    assert "stock moves: 60" in said
    assert said.endswith("The database is filled.\n")


def test_the_last_day_may_be_said():
    run(on="2020-06-30")
    assert Answer.objects.latest("given_on").given_on.year <= 2020


def test_a_database_in_use_is_an_error():
    UnitFactory()
    with pytest.raises(CommandError, match="holds machines already"):
        run()


@pytest.mark.parametrize(
    ("wrong", "said"),
    [
        ({"models": 0}, "at least one model"),
        ({"moves": -1}, "below zero"),
        ({"on": "soon"}, "soon"),
    ],
)
def test_numbers_and_days_that_cannot_be_are_errors(wrong, said):
    with pytest.raises(CommandError, match=said):
        run(**wrong)
    assert not Answer.objects.exists()
