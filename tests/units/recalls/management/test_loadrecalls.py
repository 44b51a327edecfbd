from io import StringIO

import pytest
from django.core.management import CommandError, call_command

from tests.factories.units import MachineModelFactory, UnitFactory
from tests.units.recalls.ground import as_json, record
from units.recalls.models import Recall

pytestmark = pytest.mark.django_db


@pytest.fixture
def file(tmp_path):
    path = tmp_path / "recalls.json"
    path.write_bytes(as_json(record(), record("2", text="Model TR-80.")))
    return path


def run(path) -> str:
    out = StringIO()
    call_command("loadrecalls", str(path), stdout=out)
    return out.getvalue()


def test_the_command_prints_what_it_did(file):
    UnitFactory(model=MachineModelFactory(number="TR-90"), serial="CV125000")
    said = run(file)
    assert "Recalls new: 2, changed: 0, as before: 0." in said
    assert "Matches opened: 1." in said
    assert "holds its machine from sale" in said


def test_the_command_may_be_run_again(file):
    run(file)
    said = run(file)
    assert "Recalls new: 0, changed: 0, as before: 2." in said
    assert "holds" not in said


def test_the_command_says_what_was_left_out_as_older(file):
    run(file)
    old = {"LastPublishDate": "2026-01-05T00:00:00", "text": "Nothing more."}
    file.write_bytes(as_json(record(**old), record("2", **old)))
    assert "2 notices were left out: later wordings of them are known." in run(file)


def test_a_file_cut_off_is_an_error_that_names_file_and_line(file):
    file.write_bytes(file.read_bytes()[:-40])
    with pytest.raises(CommandError, match=r"recalls\.json: .* line \d+"):
        run(file)
    assert not Recall.objects.exists()


def test_a_file_that_is_not_there_is_an_error(tmp_path):
    with pytest.raises(CommandError, match=r"none\.json cannot be read: No such file"):
        run(tmp_path / "none.json")
