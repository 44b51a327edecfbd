from pathlib import Path

import pytest

from units.catalogue.models import Component, Kind, KindComponent
from units.catalogue.services import load_reference

pytestmark = pytest.mark.django_db

REFERENCE = Path(__file__).parents[4] / "fixtures" / "reference"
SMALL = """
[components]
frame = "frame"
cables = "cables"
pulleys = "pulleys"

[[kinds]]
slug = "strength-machine"
name = "strength machine"
has_safety_key = false
has_cord = false
wears = ["cables"]
critical = ["frame", "cables"]
others = [{others}]
"""


def written(folder: Path, others: str = '"pulleys"') -> Path:
    (folder / "kinds.toml").write_text(SMALL.replace("{others}", others))
    return folder


def test_the_shops_own_table_holds_the_eight_kinds_of_the_trade():
    """TRADE, "The machine": the kinds."""
    load_reference(REFERENCE)
    assert list(Kind.objects.values_list("name", flat=True)) == [
        "treadmill",
        "elliptical",
        "upright bike",
        "recumbent bike",
        "indoor cycle",
        "stair climber",
        "rower",
        "strength machine",
    ]
    assert list(Kind.objects.filter(has_safety_key=True)) == [Kind.objects.get(slug="treadmill")]


def test_every_kind_of_the_shops_own_table_has_parts_that_wear_and_parts_that_decide():
    load_reference(REFERENCE)
    for kind in Kind.objects.all():
        assert kind.components.filter(wears=True).exists(), kind
        assert kind.components.filter(critical=True).exists(), kind


def test_loading_twice_changes_nothing(tmp_path):
    load_reference(written(tmp_path))
    before = list(KindComponent.objects.values())
    load_reference(written(tmp_path))
    assert list(KindComponent.objects.values()) == before


def test_component_in_two_groups_stands_once_with_both_meanings(tmp_path):
    load_reference(written(tmp_path))
    cables = KindComponent.objects.get(component="cables")
    assert (cables.wears, cables.critical, cables.position) == (True, True, 1)


def test_component_no_longer_named_leaves_the_kind_but_stays_known(tmp_path):
    load_reference(written(tmp_path))
    load_reference(written(tmp_path, others=""))
    assert not KindComponent.objects.filter(component="pulleys").exists()
    assert Component.objects.filter(slug="pulleys").exists()


def test_unknown_component_is_named_and_nothing_is_loaded(tmp_path):
    with pytest.raises(ValueError, match=r"strength-machine: unknown components \['flywheel'\]"):
        load_reference(written(tmp_path, others='"flywheel"'))
    assert not Kind.objects.exists()
    assert not Component.objects.exists()
