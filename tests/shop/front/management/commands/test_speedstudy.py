from io import StringIO

import pytest
from django.core.management import CommandError, call_command

from tests.factories.parts import AnswerFactory

pytestmark = pytest.mark.django_db


def test_each_action_is_timed_beside_its_bare_statements():
    AnswerFactory()
    out = StringIO()
    call_command("speedstudy", runs=1, stdout=out)
    first, _head, *rows = out.getvalue().splitlines()
    assert first.startswith("1 models, 0 parts, 1 answers")
    assert len(rows) == 6
    for row in rows:
        queries, seconds, bare = row.split()[-3:]
        assert int(queries) > 0
        assert float(seconds) >= 0
        assert float(bare) >= 0


def test_an_empty_database_is_not_timed():
    with pytest.raises(CommandError, match="filldatabase"):
        call_command("speedstudy")
