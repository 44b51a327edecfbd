"""The shipped protocols and rules as a whole. All of it: common practice, no published source."""

import tomllib
from decimal import Decimal

import pytest
from django.conf import settings

from units.inspections.domain.protocols import (
    AFTER_MOVE,
    ARRIVAL,
    CLUB,
    FINAL,
    OCCASIONS,
    PURCHASE,
    REPAIR,
)
from units.inspections.domain.scope import Work, scope_of
from units.inspections.domain.understanding import SEEN
from units.inspections.selectors import (
    cautions,
    findable,
    protocol_tables,
    tools,
    understanding_rules,
)

REFERENCE = settings.BASE_DIR / "fixtures" / "reference"
ROWS = {row["slug"]: row for row in tomllib.loads((REFERENCE / "kinds.toml").read_text())["kinds"]}
KINDS = {slug: {*kind["wears"], *kind["critical"], *kind["others"]} for slug, kind in ROWS.items()}

PROTOCOLS = protocol_tables()
BY_SLUG = {protocol.slug: protocol for protocol in PROTOCOLS}
NAMED = pytest.mark.parametrize("protocol", PROTOCOLS, ids=lambda protocol: protocol.slug)
EACH_KIND = pytest.mark.parametrize("kind", sorted(KINDS))
POWERS = ["off", "on", "running"]


def failing_pairs(step):
    """(component, condition) of everything that can be found not sound."""
    rows = [row for row in step.conditions if not row["passes"]]
    pairs = {(row.get("component", step.component), row["condition"]) for row in rows}
    return pairs | ({(step.component, step.fails_as)} if step.fails_as else set())


def test_every_kind_has_a_protocol_for_every_occasion():
    assert set(BY_SLUG) == {f"{kind}-{when}" for kind in KINDS for when in OCCASIONS}


@NAMED
def test_the_order_is_that_of_the_hands_unplugged_then_powered_then_running(protocol):
    order = [POWERS.index(step.power) for step in protocol.steps]
    assert order == sorted(order)


@EACH_KIND
def test_a_visit_to_a_club_takes_at_most_eight_steps_and_three_minutes_a_machine(kind):
    """The promise of the trade: a club that is still open has power, and little time."""
    visit = BY_SLUG[f"{kind}-{CLUB}"]
    assert len(visit.steps) <= 8
    assert visit.seconds <= 3 * 60


@EACH_KIND
def test_the_plate_and_whether_it_is_whole_come_first_on_a_visit(kind):
    """Common practice, no published source: identity first, and no minute for what is apart."""
    for occasion in (PURCHASE, CLUB):
        assert {step.key for step in BY_SLUG[f"{kind}-{occasion}"].steps[:2]} == {"whole", "plate"}


@NAMED
def test_taken_apart_ends_a_purchase_visit_and_nothing_else(protocol):
    """Common practice, no published source: already apart when we come is not bought as working."""
    ends = {
        (step.key, row["condition"], row["ends"])
        for step in protocol.steps
        for row in step.conditions
        if "ends" in row
    }
    expected = {("whole", "taken-apart", "walk-away")} if protocol.occasion == PURCHASE else set()
    assert ends == expected


def test_the_sentence_of_walking_away_says_why():
    row = BY_SLUG["treadmill-purchase"].steps[0].conditions[1]
    assert "not bought as working, whatever the seller says" in row["why"]


@NAMED
def test_every_fault_that_a_protocol_can_find_has_a_rule(protocol):
    speaks = set().union(
        *(
            rule.any | rule.all
            for rule in understanding_rules()
            if not rule.kinds or protocol.kind in rule.kinds
        )
    )
    found = set().union(*(failing_pairs(step) for step in protocol.steps))
    assert found - speaks == set()


@NAMED
def test_steps_and_rules_agree_on_what_holds_a_machine(protocol):
    holding = set().union(*(rule.any | rule.all for rule in understanding_rules() if rule.hold))
    for step in protocol.steps:
        for pair in failing_pairs(step):
            assert (pair in holding) == step.holds, pair


@NAMED
def test_a_condition_that_needs_a_moving_machine_is_never_asked_of_one_unplugged(protocol):
    for step in protocol.steps:
        if {"stand-off"} & set(step.cautions):
            assert step.power != "off"


def test_every_rule_speaks_only_of_components_that_its_kinds_have():
    for rule in understanding_rules():
        seen = {component for component, _ in rule.all | rule.any}
        kinds = rule.kinds or {kind for kind, has in KINDS.items() if seen & has}
        for kind in kinds:
            assert {component for component, _ in rule.verdicts} <= KINDS[kind], (rule.key, kind)


def test_every_rule_can_fire_on_what_some_protocol_finds():
    found = set().union(*findable().values())
    found |= {(step.component, SEEN) for p in PROTOCOLS for step in p.steps}
    for rule in understanding_rules():
        assert rule.all | rule.any | rule.none <= found, rule.key


def test_every_caution_is_shown_somewhere():
    shown = {key for protocol in PROTOCOLS for step in protocol.steps for key in step.cautions}
    sentences = {rule.caution for rule in understanding_rules()}
    unused = {key for key, text in cautions().items() if key not in shown and text not in sentences}
    assert unused == set()


def test_the_limit_of_the_current_is_the_shop_default_of_twelve_amperes():
    """TRADE: common practice and makers' papers; the limit belongs to the model."""
    for slug in (f"treadmill-{ARRIVAL}", f"treadmill-{FINAL}"):
        step = next(step for step in BY_SLUG[slug].steps if step.key == "current")
        assert (step.measure, step.high, step.fails_as) == ("A", Decimal(12), "high-current")


@EACH_KIND
def test_steps_that_share_a_key_within_a_kind_look_at_the_same_component(kind):
    seen = {}
    for occasion in OCCASIONS:
        for step in BY_SLUG[f"{kind}-{occasion}"].steps:
            assert seen.setdefault(step.key, step.component) == step.component, step.key


@NAMED
def test_what_can_hurt_is_warned_of_where_it_can(protocol):
    """The trade's cautions: common practice, no published source; the maker comes first."""
    for step in protocol.steps:
        warned = set(step.cautions)
        if step.component in {"motor-control-board", "motor-brushes"} and step.power == "off":
            assert {"unplug", "stored-charge"} <= warned, step.key
        if step.component in {"lift-motor", "incline-rack", "folding-latch"}:
            assert "crush" in warned, step.key
        if protocol.kind == "strength-machine" and step.power == "running":
            assert "stack-pinch" in warned, step.key
        if protocol.kind == "stair-climber" and step.power == "running":
            assert "crush" in warned, step.key
        if protocol.kind == "treadmill" and step.power == "running":
            assert warned & {"moving-parts", "stand-off"}, step.key
        if step.component in {"frame", "folding-latch"} and step.key in {"frame", "whole", "latch"}:
            assert "heavy" in warned, step.key


@EACH_KIND
def test_whoever_buys_is_told_of_the_law_of_the_place(kind):
    """The trade's cautions: local codes, consumer and second-hand dealer law apply."""
    assert "dealer-law" in BY_SLUG[f"{kind}-{PURCHASE}"].steps[0].cautions


@NAMED
def test_a_step_at_the_outlet_says_whose_work_wiring_is_and_asks_for_none(protocol):
    """TRADE: work on building wiring belongs to a licensed electrician."""
    for step in protocol.steps:
        if step.key == "outlet":
            assert "wiring" in step.cautions
            assert "nothing is opened or measured" in step.instruction
    assert "licensed electrician" in cautions()["wiring"]


@EACH_KIND
def test_a_machine_with_a_cord_is_asked_about_its_outlet_where_it_will_stand(kind):
    keys = [step.key for step in BY_SLUG[f"{kind}-{AFTER_MOVE}"].steps]
    assert ("outlet" in keys) == ROWS[kind]["has_cord"]


def test_every_tool_is_needed_somewhere():
    assert set(tools()) == {tool for one in PROTOCOLS for step in one.steps for tool in step.tools}


@EACH_KIND
def test_parting_wires_is_preceded_by_a_picture_of_them_where_there_are_wires(kind):
    """TRADE, moves: photo of the wiring before parting the upright; hardware in labelled bags."""
    steps = {step.key: step for step in BY_SLUG[f"{kind}-{REPAIR}"].steps}
    assert ("wiring" in steps) == ("upright-cable" in KINDS[kind])
    if "wiring" in steps:
        assert steps["wiring"].photo
        assert "bags" in steps["wiring"].tools


# --- Final tests


def asked_after(kind, *work, place="bench", full=False):
    test = BY_SLUG[f"{kind}-{FINAL}"]
    scope = scope_of(test.steps, test.run_in, Work(work, place, full))
    return {step.key for step in test.steps} if scope.full else set(scope.keys)


STOPS = {
    "treadmill": {"safety-stop", "stop-key"},
    "stair-climber": {"stop-key", "steps-hold"},
    "indoor-cycle": {"brake-stop"},
}


@EACH_KIND
def test_every_final_test_has_the_safety_stop_and_the_repaired_function(kind):
    """TRADE, final test. Common practice, no published source."""
    for component in KINDS[kind]:
        assert STOPS.get(kind, set()) | {"repaired", "fasteners"} <= asked_after(kind, component)


@EACH_KIND
def test_the_step_that_judges_a_component_is_asked_after_work_on_it(kind):
    for step in BY_SLUG[f"{kind}-{FINAL}"].steps:
        for component in step.judged:
            assert step.key in asked_after(kind, component)


@EACH_KIND
def test_for_resale_everything_is_tested(kind):
    whole = {step.key for step in BY_SLUG[f"{kind}-{FINAL}"].steps}
    assert asked_after(kind, "frame", full=True) == whole


@pytest.mark.parametrize(
    ("work", "there", "absent"),
    [
        (["running-belt", "deck"], {"tracking", "current", "noise"}, {"incline", "keys"}),
        (["lift-motor"], {"incline", "calibration"}, {"tracking", "current"}),
        (["motor-control-board"], {"calibration", "speed", "current", "incline"}, {"latch"}),
        (["console-board"], {"calibration", "keys", "speed"}, {"tracking"}),
        (["keypad-membrane"], {"keys"}, {"incline", "calibration", "current"}),
        (["folding-latch"], {"latch", "frame"}, {"keys"}),
    ],
)
def test_the_scope_of_a_treadmills_test_follows_the_work(work, there, absent):
    """TRADE: scope follows the work; after a lift motor, board or console change: calibrate."""
    asked = asked_after("treadmill", *work)
    assert there <= asked
    assert not absent & asked


def test_in_a_home_the_outlet_the_space_and_the_latch_are_looked_at_too():
    bench, home = (asked_after("treadmill", "running-belt", place=one) for one in ("bench", "home"))
    assert home - bench == {"outlet", "space", "latch"}


@EACH_KIND
def test_the_run_in_is_the_shop_default_of_the_trade(kind):
    """TRADE *(shop defaults)*: after drive work 20 min at the bench, 10 in a home; else 5."""
    run_in = BY_SLUG[f"{kind}-{FINAL}"].run_in
    if kind == "strength-machine":  # nothing turns
        assert not run_in
    else:
        minutes = {word: run_in[word] for word in ("bench", "home", "club", "otherwise")}
        assert minutes == {"bench": 20, "home": 10, "club": 10, "otherwise": 5}
