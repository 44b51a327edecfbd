"""The exits and their conditions. Common practice, no published source, but for the recall (15
U.S.C. 2068); days are shop defaults."""

import tomllib
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from decimal import Decimal
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shop.resale.domain.exits import ExitError, Need, outlet_fits, read_exits
from shop.resale.domain.readiness import (
    KNOWN,
    RECALL_CHECK_DAYS,
    Disclosed,
    Facts,
    gaps,
    held_through,
)

TABLE = tomllib.loads(
    (Path(__file__).parents[4] / "fixtures" / "reference" / "exits.toml").read_text()
)
EXITS = read_exits(TABLE, list(KNOWN))

TODAY = date(2026, 10, 5)
MORNING = datetime(2026, 10, 5, 9, 0, tzinfo=UTC)
LATER = MORNING + timedelta(hours=2)
READY = Facts(
    on=TODAY,
    plate_confirmed=True,
    recall_outcome="none",
    recall_checked_on=TODAY,
    inspected_at=MORNING,
    tested_at=LATER,
    test_passed=True,
    worked_at=MORNING,
    support="supported",
    support_fresh=True,
    has_safety_key=True,
    safety_key_present=True,
    graded=True,
    cleaned=True,
    sale_photos=1,
    plugged_in=True,
    supply_known=True,
    price=Decimal("900.00"),
    floor=Decimal("900.00"),
    papers={key: Disclosed((), "supported") for key in EXITS},
)
OLD = TODAY - timedelta(days=RECALL_CHECK_DAYS + 1)


def keys(facts, way="retail"):
    return [gap.key for gap in gaps(facts, EXITS[way])]


def told(support="supported", faults=()):
    return {"papers": {key: Disclosed(tuple(faults), support) for key in EXITS}}


def test_a_machine_that_meets_everything_is_ready():
    assert keys(READY) == []


@pytest.mark.parametrize(
    ("change", "key"),
    [
        ({"plate_confirmed": False}, "plate"),
        ({"recall_outcome": "", "recall_checked_on": None}, "recall-unread"),
        ({"recall_outcome": "fits"}, "recall-fits"),
        ({"recall_outcome": "unsure"}, "recall-unsure"),
        ({"recall_checked_on": OLD}, "recall-old"),
        ({"inspected_at": None}, "inspection"),
        ({"open_job": "J00001"}, "open-job"),
        ({"standing": ("deck",)}, "findings"),
        ({"tested_at": None, "test_passed": False}, "test"),
        ({"test_passed": False}, "test-failed"),
        ({"worked_at": LATER + timedelta(seconds=1)}, "test-old"),
        ({"support_fresh": False}, "support-stale"),
        ({"support": "limited"}, "terms-old"),
        (told(faults=[("deck", "grooved")]), "terms-old"),
        ({"papers": {}}, "terms"),
        ({"held_through": TODAY}, "holding"),
        ({"reserved_for": "Ada Marsh", "reserved_until": TODAY}, "reserved"),
        ({"recalls_open": ("26645",)}, "recall-open"),
        ({"recalls_confirmed": ("26645",)}, "recall-confirmed"),
        ({"supply_known": False}, "supply"),
        ({"graded": False}, "grading"),
        ({"cleaned": False}, "cleaned"),
        ({"safety_key_present": False}, "safety-key"),
        ({"sale_photos": 0}, "photo"),
        ({"price": None, "floor": None}, "price"),
        ({"price": Decimal("899.99")}, "price-below"),
    ],
)
def test_each_condition_alone_keeps_a_machine_from_sale(change, key):
    assert keys(replace(READY, **change)) == [key]


@pytest.mark.parametrize("support", ["not-asked", "no-answer"])
def test_unknown_support_keeps_it_back_until_the_paper_says_so(support):
    assert keys(replace(READY, support=support)) == ["support", "terms-old"]


@pytest.mark.parametrize(
    "change",
    [
        {"has_safety_key": False, "safety_key_present": False},
        {"plugged_in": False, "supply_known": False},
        {"worked_at": None},
        {"worked_at": LATER},
        {"recall_checked_on": TODAY - timedelta(days=RECALL_CHECK_DAYS)},
        {"price": Decimal("1.00"), "price_reason": "scratched frame"},
        {"support": "limited"} | told("limited"),
        {"support": "ended"} | told("ended"),
        {"support_fresh": False} | told("supported, stale"),
        {"support": "not-asked", "support_fresh": False} | told("not-asked"),
        {"support": "no-answer", "support_fresh": False} | told("no-answer"),
        {"held_through": TODAY - timedelta(days=1)},
    ],
)
def test_what_does_not_apply_or_is_disclosed_keeps_nothing_back(change):
    assert keys(replace(READY, **change)) == []


def test_a_recall_that_fits_stands_however_old_the_check():
    assert keys(replace(READY, recall_outcome="fits", recall_checked_on=OLD)) == ["recall-fits"]


def test_a_gap_carries_the_names_that_its_sentence_speaks_of():
    (gap,) = gaps(replace(READY, standing=("deck", "running belt")), EXITS["retail"])
    assert gap.names == ("deck", "running belt")


@given(st.integers(0, 400))
def test_a_check_of_recalls_never_becomes_younger(days):
    older = replace(READY, recall_checked_on=TODAY - timedelta(days=days))
    oldest = replace(READY, recall_checked_on=TODAY - timedelta(days=days + 1))
    assert set(keys(older)) <= set(keys(oldest))


NOTHING = Facts(on=TODAY)
WORST = replace(
    READY,
    plate_confirmed=False,
    recall_outcome="fits",
    recalls_open=("26645",),
    recalls_confirmed=("26646",),
    open_job="J00001",
    standing=("frame",),
    safety=("frame",),
    tested_at=None,
    support="not-asked",
    safety_key_present=False,
    sale_photos=0,
    price=Decimal(1),
    papers={},
    held_through=TODAY,
    reserved_for="Ada Marsh",
)


@pytest.mark.parametrize("way", EXITS)
def test_a_machine_that_meets_everything_may_leave_by_every_exit(way):
    assert keys(READY, way) == []


@pytest.mark.parametrize("way", EXITS)
def test_an_exit_asks_only_for_what_its_table_names(way):
    named = {need.condition for need in EXITS[way].needs}
    assert set(keys(WORST, way)) | set(keys(NOTHING, way)) <= named


def test_every_condition_is_asked_for_by_some_exit():
    assert {need.condition for way in EXITS.values() for need in way.needs} == set(KNOWN)


RECALLS = {key for key in KNOWN if key.startswith("recall-")}
SALES = [key for key, way in EXITS.items() if way.sale]


def test_the_exits_are_those_of_the_trade():
    assert list(EXITS) == [
        "retail",
        "as-is",
        "for-parts",
        "wholesale",
        "donated",
        "stripped",
        "scrapped",
    ]
    assert SALES == ["retail", "as-is", "for-parts", "wholesale"]


@pytest.mark.parametrize("way", [*SALES, "donated"])
@pytest.mark.parametrize("recall", sorted(RECALLS))
def test_no_exit_to_another_person_lets_a_recall_pass(way, recall):
    """15 U.S.C. 2068: a recalled product is not sold, by whomever."""
    assert not EXITS[way].waivable(recall)
    assert recall in {need.condition for need in EXITS[way].needs}


@pytest.mark.parametrize("way", EXITS)
@pytest.mark.parametrize(
    "recalled",
    [{"recall_outcome": "fits"}, {"recalls_open": ("26646",)}, {"recalls_confirmed": ("26646",)}],
)
def test_a_recalled_machine_may_only_be_scrapped_and_no_word_overrides_that(way, recalled):
    """Its pieces would be sold with jobs: what is not remedied is scrapped."""
    found = gaps(replace(READY, **recalled), EXITS[way])
    assert bool(found) == (way != "scrapped")
    assert not any(gap.waivable for gap in found)


@pytest.mark.parametrize(
    ("way", "blocked"),
    [
        ("retail", True),
        ("as-is", True),
        ("donated", True),
        ("for-parts", False),
        ("wholesale", False),
        ("stripped", False),
        ("scrapped", False),
    ],
)
def test_a_failed_safety_item_blocks_whatever_ends_in_use(way, blocked):
    unsafe = replace(READY, standing=("frame",), safety=("frame",))
    found = [gap for gap in gaps(unsafe, EXITS[way]) if gap.key in ("safety", "findings")]
    assert bool(found) == blocked
    assert not any(gap.waivable for gap in found)


def test_a_fault_that_is_no_danger_is_written_down_and_sold_as_it_is():
    scratched = replace(READY, standing=("console",), faults=(("console", "scratched"),))
    assert keys(scratched, "as-is") == ["terms-old"]
    written = replace(scratched, **told(faults=[("console", "scratched")]))
    assert keys(written, "as-is") == []
    assert keys(written, "retail") == ["findings"]


def test_what_the_owner_let_pass_holds_for_that_exit_and_those_names_only():
    bare = replace(READY, sale_photos=0, recalls_open=("1",))
    passed = replace(bare, waived={("retail", "photo"): [frozenset()]})
    assert keys(passed) == ["recall-open"]
    assert keys(passed, "as-is") == ["recall-open", "photo"]
    # Of the exits none lets a condition with names pass today; a table may.
    needs = (Need("open-job", True),)
    mild = replace(EXITS["scrapped"], key="mild", needs=needs)
    busy = replace(READY, open_job="J1", waived={("mild", "open-job"): [frozenset(["J1"])]})
    assert gaps(busy, mild) == []
    assert [gap.key for gap in gaps(replace(busy, open_job="J2"), mild)] == ["open-job"]


def test_what_nobody_may_let_pass_stands_whatever_is_written():
    let = {(way, key): [frozenset(["1", "frame"])] for way in EXITS for key in KNOWN}
    recalled = replace(WORST, recalls_open=("1",), waived=let)
    assert {"recall-open", "findings", "open-job", "reserved"} <= set(keys(recalled))


def test_a_machine_is_held_the_days_the_law_says_the_first_included():
    assert held_through(TODAY, 0) is None
    assert held_through(TODAY, 1) == TODAY
    assert held_through(TODAY, 15) == TODAY + timedelta(days=14)


@pytest.mark.parametrize(
    ("plug", "outlet", "fits"),
    [
        ("5-15", "5-15", True),
        ("5-15", " nema 5-15 ", True),
        ("6-20", "5-15", False),
        ("5-15", "", False),
    ],
)
def test_an_outlet_fits_the_plug_of_its_own_shape(plug, outlet, fits):
    assert outlet_fits(plug, outlet) is fits


def row(**changes):
    start = {"name": "x", "left": "sold", "sale": True, "outlet": False, "terms": []}
    return {"groups": {}, "exits": {"x": start | {"needs": [], "waivable": []} | changes}}


@pytest.mark.parametrize(
    ("changes", "sentence"),
    [
        ({"needs": ["moonlight"]}, "nobody knows the conditions moonlight"),
        ({"needs": ["photo"], "waivable": ["photo"]}, "stands twice"),
    ],
)
def test_a_wrong_table_is_refused_with_what_is_wrong(changes, sentence):
    with pytest.raises(ExitError, match=sentence):
        read_exits(row(**changes), list(KNOWN))
