import json
from io import StringIO

import pytest
from django.core.management import CommandError, call_command

from tests.factories.pictures import picture
from tests.factories.units import MakerFactory
from tests.ground import RealDatabase
from tests.units.plates import obedient_reader as orders

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("obedient")]


@pytest.fixture
def photo_at(tmp_path):
    """``photo_at(name, order)``: the path of a photo that orders the reader."""

    def make(name, order=orders.READ, content=None):
        path = tmp_path / name
        path.write_bytes(picture("PNG", (160, order)) if content is None else content)
        return str(path)

    return make


def run(*words) -> tuple[str, str]:
    """What the command prints, and the sentence it ends with, if it fails."""
    out = StringIO()
    try:
        call_command("readplate", *words, stdout=out)
    except CommandError as error:
        return out.getvalue(), str(error)
    return out.getvalue(), ""


def test_each_photo_becomes_an_object(photo_at):
    path = photo_at("one.png")
    out, failed = run(path, "--json")
    assert json.loads(out) == [
        {
            "file": path,
            "maker": "Corvane",
            "model": "TM-9",
            "model_confidence": 0.99,
            "serial": "CV1O2",
            "serial_confidence": 0.99,
            "made": "",
            "volts": "",
            "hertz": "",
            "amps": "",
            "barcodes": [{"format": "Code 128", "text": "CV\x0002"}],
            "outcome": "sure",
            "seconds": 0.01,
        }
    ]
    assert failed == ""


def test_photo_without_a_plate_has_empty_fields(photo_at):
    row = json.loads(run(photo_at("wall.png", orders.NOTHING), "--json")[0])[0]
    assert (row["model"], row["model_confidence"], row["outcome"]) == ("", 0.0, "type")


def test_bad_file_gets_its_sentence_and_the_others_are_read(photo_at, tmp_path):
    MakerFactory()
    words = [
        photo_at("a.png", orders.EXIT),
        photo_at("b.jpg", content=b"<html>"),
        str(tmp_path / "c.jpg"),
        str(tmp_path),
        photo_at("d.png"),
    ]
    out, failed = run(*words, "--json")
    rows = json.loads(out)
    assert [row.get("error", row.get("model")) for row in rows] == [
        "The reader stopped over this photo.",
        "“b.jpg” is not a picture that we can keep. Choose a JPEG, PNG, WebP or HEIC file.",
        "“c.jpg” cannot be opened: No such file or directory.",
        f"“{tmp_path.name}” cannot be opened: Is a directory.",
        "TM-9",
    ]
    assert failed == "4 of 5 photos were not read."


def test_without_json_there_is_a_line_for_each_photo(photo_at):
    good, bad = photo_at("one.png"), photo_at("two.png", orders.REFUSE)
    out, _failed = run(good, bad)
    assert out.splitlines() == [
        f"{good}: sure: Corvane, model TM-9 (99.0%), serial CV1O2 (99.0%), 0.01 s",
        f"{bad}: The picture could not be decoded.",
    ]


def test_it_needs_no_database_and_makes_none(tmp_path, photo_at):
    home = tmp_path / "home"
    database = RealDatabase("sqlite", home)
    database.more = {"DJANGO_SETTINGS_MODULE": "tests.faults.obedient_settings"}
    assert '"model": "TM-9"' in database.manage("readplate", photo_at("one.png"), "--json")
    assert not (home / "underbelt.sqlite3").exists()


def test_older_database_is_passed_over(tmp_path, photo_at):
    home = tmp_path / "home"
    home.mkdir()
    (home / "underbelt.sqlite3").touch()
    database = RealDatabase("sqlite", home)
    database.more = {"DJANGO_SETTINGS_MODULE": "tests.faults.obedient_settings"}
    assert '"model": "TM-9"' in database.manage("readplate", photo_at("one.png"), "--json")
