"""The shipped protocols and rules as a whole. All of it: common practice, no published source."""

import tomllib
from decimal import Decimal

import pytest
from django.conf import settings

from units.inspections.domain.protocols import parse_protocol
from units.inspections.selectors import cautions, understanding_rules

REFERENCE = settings.BASE_DIR / "fixtures" / "reference"
KINDS = {
    kind["slug"]: {*kind["wears"], *kind["critical"], *kind["others"]}
    for kind in tomllib.loads((REFERENCE / "kinds.toml").read_text())["kinds"]
}
PROTOCOLS = [
    parse_protocol(
        tomllib.loads(path.read_text(), parse_float=Decimal), path.name, KINDS, cautions()
    )
    for path in sorted((REFERENCE / "protocols").glob("*.toml"))
]
BY_SLUG = {protocol.slug: protocol for protocol in PROTOCOLS}
NAMED = pytest.mark.parametrize("protocol", PROTOCOLS, ids=lambda protocol: protocol.slug)


def failing_pairs(step):
    """(component, condition) of everything that can be found not sound."""
    rows = [row for row in step.conditions if not row["passes"]]
    pairs = {(row.get("component", step.component), row["condition"]) for row in rows}
    return pairs | ({(step.component, step.fails_as)} if step.fails_as else set())


def test_every_kind_has_an_arrival_and_a_final_protocol():
    assert set(BY_SLUG) == {f"{kind}-{when}" for kind in KINDS for when in ("arrival", "final")}


def test_the_treadmill_is_looked_at_unplugged_then_powered_then_running():
    order = [
        ["off", "on", "running"].index(step.power) for step in BY_SLUG["treadmill-arrival"].steps
    ]
    assert order == sorted(order)
    assert set(order) == {0, 1, 2}


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
    found = set().union(*(failing_pairs(step) for p in PROTOCOLS for step in p.steps))
    found |= {(step.component, "not-possible") for p in PROTOCOLS for step in p.steps}
    for rule in understanding_rules():
        assert rule.all | rule.any | rule.none <= found, rule.key


def test_every_caution_is_shown_somewhere():
    shown = {key for protocol in PROTOCOLS for step in protocol.steps for key in step.cautions}
    sentences = {rule.caution for rule in understanding_rules()}
    unused = {key for key, text in cautions().items() if key not in shown and text not in sentences}
    assert unused == set()


def test_the_limit_of_the_current_is_the_shop_default_of_twelve_amperes():
    """TRADE: common practice and makers' papers; the limit belongs to the model."""
    for slug in ("treadmill-arrival", "treadmill-final"):
        step = next(step for step in BY_SLUG[slug].steps if step.key == "current")
        assert (step.measure, step.high, step.fails_as) == ("A", Decimal(12), "high-current")


def test_steps_that_share_a_key_within_a_kind_look_at_the_same_component():
    for kind in KINDS:
        first, second = BY_SLUG[f"{kind}-arrival"], BY_SLUG[f"{kind}-final"]
        arrival = {step.key: step.component for step in first.steps}
        for step in second.steps:
            assert arrival.get(step.key, step.component) == step.component, (kind, step.key)
