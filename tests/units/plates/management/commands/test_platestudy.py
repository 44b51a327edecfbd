"""The study reads what it draws, keeps what it read, and reports what was kept."""

import json
import shutil
import tomllib

import pytest
from django.core.management import CommandError, call_command

from tests.platemaker import make_photo
from units.plates.domain import confidence
from units.plates.management.commands import platestudy

FIRST = 1_000_000  # the first photo of seed 1


def kept_row(at, *, right=True, said=0.97, family="decoys", families="judge"):
    """One line of a kept study: the photo at this place of seed 1, read with this confidence."""
    tier = ("easy", "normal", "hard")[at % 3]
    model = {"text": "T-310", "true": "T-310", "right": True, "confidence": 0.98, "outcome": "sure"}
    serial = model | {"true": "CV1", "text": "CV1" if right else "CV7", "right": right}
    return {
        "name": f"{families}-{tier}-{FIRST + at}",
        "family": family,
        "tier": tier,
        "outcome": "sure",
        "fields": {"model": model, "serial": serial | {"confidence": said}},
        "features": {"model": {"fit": 1.0}, "serial": {"fit": said}},
        "version": "plate reader 1",
        "seconds": 1.0 + at,
        "memory": 500_000_000,
    }


@pytest.fixture
def keep(tmp_path):
    def write(*rows):
        file = tmp_path / "kept.jsonl"
        file.write_text("".join(json.dumps(row) + "\n" for row in rows), encoding="utf-8")
        return file

    return write


@pytest.fixture
def table(tmp_path, monkeypatch):
    """The fitted figures, in a copy that a test may overwrite."""
    copy = tmp_path / "confidence.toml"
    shutil.copy(confidence.TABLE, copy)
    monkeypatch.setattr(confidence, "TABLE", copy)
    return copy


def test_a_kept_study_is_reported_without_reading_again(keep, capsys):
    file = keep(kept_row(0), kept_row(1), kept_row(2, right=False))

    call_command("platestudy", photos=3, keep=file)

    told = capsys.readouterr().out
    assert "3 photos, 1 families" in told
    assert "sure but wrong: 1 of 3" in told
    assert "median 2.00, 95th percentile 3.00" in told


def test_what_was_read_wrongly_is_listed_when_asked_for(keep, capsys):
    file = keep(kept_row(0), kept_row(1, right=False, said=0.91), kept_row(2))

    call_command("platestudy", photos=3, keep=file, wrong=True)

    assert "decoys serial: CV1 read as CV7 (sure 0.910)" in capsys.readouterr().out


def test_a_photo_that_was_not_kept_is_drawn_read_and_added(keep, monkeypatch, capsys):
    monkeypatch.setenv("UNDERBELT_READER_THREADS", "1")
    file = keep(kept_row(1), kept_row(2))

    call_command("platestudy", photos=3, keep=file, workers=1)

    added = json.loads(file.read_text(encoding="utf-8").splitlines()[-1])
    truth = make_photo(seed=FIRST, tier="easy", families="judge").truth
    assert added["name"] == f"judge-easy-{FIRST}"
    assert added["fields"]["serial"]["true"] == truth.serial
    assert added["fields"]["serial"]["text"]
    assert "3 photos" in capsys.readouterr().out


def test_without_the_generator_it_says_what_to_do(monkeypatch):
    monkeypatch.setattr(platestudy, "GENERATOR", "tests.no_generator")

    with pytest.raises(CommandError, match="packages of the tests installed"):
        call_command("platestudy", photos=1)


def test_a_fit_is_written_with_its_version_and_keeps_what_counts_as_sure(keep, table):
    before = tomllib.loads(table.read_text(encoding="utf-8"))["sure"]
    rows = [
        kept_row(at, right=at % 4 > 0, said=0.2 + 0.2 * (at % 4), families="tune")
        for at in range(40)
    ]

    call_command("platestudy", fit=keep(*rows))

    fitted = tomllib.loads(table.read_text(encoding="utf-8"))
    assert fitted["sure"] == before
    assert "80 rows" in fitted["version"]
    assert fitted["fields"]["serial"]["weights"]["fit"] > 0


def test_photos_kept_for_judging_are_never_fitted_on(keep, table):
    before = table.read_text(encoding="utf-8")

    with pytest.raises(CommandError, match="never fitted on"):
        call_command("platestudy", fit=keep(kept_row(0)))

    assert table.read_text(encoding="utf-8") == before


def test_a_fit_on_nothing_is_refused_and_changes_nothing(keep, table):
    before = table.read_text(encoding="utf-8")

    with pytest.raises(CommandError, match="no read photos to fit on"):
        call_command("platestudy", fit=keep())

    assert table.read_text(encoding="utf-8") == before
