import shutil

import pytest
from django.db import IntegrityError, transaction

from tests.units.inspections.conftest import REFERENCE
from units.catalogue.services import load_reference as load_kinds
from units.inspections.models import Protocol, ProtocolStep
from units.inspections.services import InspectionError, load_reference

pytestmark = pytest.mark.django_db


@pytest.fixture
def folder(tmp_path):
    """A copy of the reference data that a test may spoil, kinds loaded."""
    load_kinds(REFERENCE)
    for name in ("rules.toml", "cautions.toml"):
        shutil.copy(REFERENCE / name, tmp_path / name)
    (tmp_path / "protocols").mkdir()
    shutil.copy(REFERENCE / "protocols" / "rower-final.toml", tmp_path / "protocols")
    return tmp_path


def rewrite(path, old, new):
    text = path.read_text()
    assert old in text
    path.write_text(text.replace(old, new, 1))


def test_loading_makes_every_protocol_with_its_steps_in_order(reference):
    assert Protocol.objects.count() == 16
    steps = Protocol.objects.get(slug="treadmill-arrival").steps
    assert list(steps.values_list("position", flat=True)) == list(range(1, 29))


def test_loading_again_changes_nothing(reference):
    before = list(Protocol.objects.values_list("pk", "digest"))
    load_reference(REFERENCE)
    assert list(Protocol.objects.values_list("pk", "digest")) == before


def test_a_loaded_version_with_another_text_is_refused(folder):
    load_reference(folder)
    rewrite(folder / "protocols" / "rower-final.toml", "Row slowly", "Row gently")
    with pytest.raises(InspectionError, match=r"rower-final.toml: version 1 was loaded before"):
        load_reference(folder)
    assert not ProtocolStep.objects.filter(instruction__contains="gently").exists()


def test_the_next_version_stands_beside_the_loaded_one(folder):
    load_reference(folder)
    rewrite(folder / "protocols" / "rower-final.toml", "version = 1", "version = 2")
    load_reference(folder)
    assert list(Protocol.objects.values_list("version", flat=True)) == [2, 1]


def test_line_ends_of_another_system_are_no_other_text(folder):
    load_reference(folder)
    path = folder / "protocols" / "rower-final.toml"
    path.write_bytes(path.read_bytes().replace(b"\n", b"\r\n"))
    load_reference(folder)
    assert Protocol.objects.count() == 1


@pytest.mark.parametrize(
    ("name", "old", "new", "says"),
    [
        ("rules.toml", '"deck:grooved"', '"mast:bent"', "rules.toml, deck-worn: “mast”"),
        ("cautions.toml", "[cautions]", "[cautions", "cautions.toml cannot be read"),
        (
            "protocols/rower-final.toml",
            'component = "frame"',
            'component = "running-belt"',
            "rower-final.toml, step frame: “running-belt” is not a known component of this kind",
        ),
    ],
)
def test_a_faulty_file_loads_nothing_and_says_where_the_fault_is(folder, name, old, new, says):
    rewrite(folder / name, old, new)
    with pytest.raises(InspectionError) as refusal:
        load_reference(folder)
    assert says in str(refusal.value)
    assert not Protocol.objects.exists()


def test_a_missing_file_is_named(folder):
    (folder / "cautions.toml").unlink()
    with pytest.raises(InspectionError, match=r"cautions\.toml cannot be read"):
        load_reference(folder)


def test_the_database_itself_refuses_to_change_a_loaded_step(reference):
    with pytest.raises(IntegrityError, match="add a version"), transaction.atomic():
        ProtocolStep.objects.filter(key="current").update(high=20)
