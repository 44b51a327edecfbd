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
    for name in ("rules.toml", "cautions.toml", "tools.toml", "notes.toml", "replacement.toml"):
        shutil.copy(REFERENCE / name, tmp_path / name)
    (tmp_path / "protocols").mkdir()
    for name in ("shared.toml", "rower.toml"):
        shutil.copy(REFERENCE / "protocols" / name, tmp_path / "protocols" / name)
    return tmp_path


def rewrite(path, old, new):
    text = path.read_text()
    assert old in text
    path.write_text(text.replace(old, new, 1))


def test_loading_makes_every_protocol_with_its_steps_in_order(reference):
    assert Protocol.objects.count() == 8 * 6
    steps = Protocol.objects.get(slug="treadmill-arrival").steps
    assert list(steps.values_list("position", flat=True)) == list(range(1, 31))


def test_loading_again_changes_nothing(reference):
    before = list(Protocol.objects.values_list("pk", "digest"))
    load_reference(REFERENCE)
    assert list(Protocol.objects.values_list("pk", "digest")) == before


def test_a_loaded_version_with_another_content_is_refused(folder):
    load_reference(folder)
    rewrite(folder / "protocols" / "rower.toml", "Row slowly", "Row gently")
    with pytest.raises(InspectionError, match=r"rower.toml: version 1 of “Rower before buying”"):
        load_reference(folder)
    assert not ProtocolStep.objects.filter(instruction__contains="gently").exists()


def test_a_shared_step_that_changes_changes_every_protocol_that_asks_it(folder):
    load_reference(folder)
    rewrite(folder / "protocols" / "shared.toml", "Find the plate", "Seek the plate")
    with pytest.raises(InspectionError, match="Give the changed protocol the next version number"):
        load_reference(folder)


def test_the_next_version_stands_beside_the_loaded_one(folder):
    load_reference(folder)
    rewrite(folder / "protocols" / "rower.toml", "version = 2", "version = 3")
    rewrite(folder / "protocols" / "rower.toml", '"rust", "feet"', '"feet"')
    load_reference(folder)
    arrivals = Protocol.objects.filter(occasion="arrival")
    older, newer = (one.steps.count() for one in arrivals.order_by("version"))
    assert [one.version for one in arrivals] == [3, 2]
    assert newer == older - 1


def test_remarks_and_order_of_words_are_no_other_content(folder):
    load_reference(folder)
    path = folder / "protocols" / "rower.toml"
    path.write_text("# A remark.\r\n" + path.read_text())
    load_reference(folder)
    assert Protocol.objects.count() == 6


@pytest.mark.parametrize(
    ("name", "old", "new", "says"),
    [
        ("rules.toml", '"deck:grooved"', '"mast:bent"', "rules.toml, deck-worn: “mast”"),
        ("tools.toml", 'light = "a lamp"', 'light = ""', "tools.toml, tools: “light” is missing"),
        ("cautions.toml", "[cautions]", "[cautions", "cautions.toml cannot be read"),
        (
            "protocols/shared.toml",
            'component = "frame"',
            'component = "running-belt"',
            "rower.toml, club, whole: “running-belt” is not a known component of this kind",
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


@pytest.mark.parametrize(
    ("old", "new", "says"),
    [
        ("deck = [0.15,", "deck = [1.15,", "three chances between 0 and 1"),
        ("deck = [0.15,", "dekc = [0.15,", "treadmill.deck: the prior is missing"),
        ("[priors.rower]\n", "[priors.rower]\ndeck = [0.1, 0.1, 0.1, 8]\n", "rower.deck: no kind"),
        ("grade = 20", "grade = 0", "every level needs a strength"),
        ("elsewhere = 0.25", "elsewhere = ", "cannot be read"),
    ],
)
def test_a_fault_in_the_priors_is_refused_before_any_page_reads_them(folder, old, new, says):
    rewrite(folder / "replacement.toml", old, new)
    with pytest.raises(InspectionError, match=r"replacement\.toml") as refusal:
        load_reference(folder)
    assert says in str(refusal.value)
    assert not Protocol.objects.exists()


def test_a_fault_in_the_notes_is_refused(folder):
    rewrite(folder / "notes.toml", 'phrase = "left side"', 'phrase = ""')
    with pytest.raises(InspectionError, match=r"notes\.toml"):
        load_reference(folder)
