"""The trade's facts of wear and fault, one by one. All: common practice, no published source."""

import pytest

from units.inspections.domain.understanding import verdicts
from units.inspections.selectors import understanding_rules


def understood(*found, kind="treadmill"):
    pairs = [tuple(text.split(":")) for text in found]
    return {each.component: each for each in verdicts(pairs, understanding_rules(), kind)}


def acts(*found, kind="treadmill"):
    return {name: verdict.act for name, verdict in understood(*found, kind=kind).items()}


PAIR = {"running-belt": "replace", "deck": "replace"}
OTHER_FACE = "deck:worn-other-face-sound"
BURNT, SEIZED = "motor-control-board:burnt", "drive-motor:seized"


def each(act, *components):
    return dict.fromkeys(components, act)


TREADMILL = [
    # belt and deck
    (["deck:smooth", "running-belt:clean"], {}),
    (["deck:smooth", "running-belt:dirty"], {"running-belt": "service"}),
    (["deck:smooth", "running-belt:dry"], {"running-belt": "service"}),
    (["deck:smooth", "running-belt:glazed"], {"running-belt": "replace"}),
    (["deck:smooth", "running-belt:stretched"], {"running-belt": "replace"}),
    (["deck:smooth", "running-belt:frayed"], {"running-belt": "replace"}),
    (["running-belt:dirty", "running-belt:frayed"], {"running-belt": "replace"}),
    (["deck:grooved"], PAIR),
    (["deck:worn-through", "running-belt:clean"], PAIR),
    (["deck:worn-through", "running-belt:dirty"], PAIR),
    (["deck:grooved", "running-belt:glazed"], PAIR),
    (["deck:worn-other-face-sound"], {"running-belt": "replace", "deck": "service"}),
    (["deck:not-possible", "running-belt:glazed"], {"running-belt": "replace", "deck": "suspect"}),
    (["deck:not-possible"], {}),
    (["running-belt:over-tight"], {"running-belt": "service"}),
    (["running-belt:off-centre"], {"running-belt": "service"}),
    (["running-belt:slips"], {"running-belt": "service", "drive-belt": "suspect"}),
    # friction is the cause
    (
        ["drive-motor:high-current", "deck:grooved"],
        PAIR | each("clear", "drive-motor", "motor-control-board"),
    ),
    (
        ["drive-motor:high-current"],
        {"running-belt": "service"} | each("suspect", "deck", "drive-motor"),
    ),
    ([BURNT], {"motor-control-board": "replace", "drive-motor": "suspect"}),
    ([BURNT, "deck:grooved"], PAIR | {"motor-control-board": "replace", "drive-motor": "suspect"}),
    (
        [SEIZED, OTHER_FACE],
        {
            "running-belt": "replace",
            "deck": "service",
            "drive-motor": "replace",
            "motor-control-board": "suspect",
        },
    ),
    (["breaker:trips-under-load"], {"breaker": "clear"} | each("suspect", "running-belt", "deck")),
    # incline
    (["lift-motor:dead"], {"lift-motor": "replace", "incline-sensor": "suspect"}),
    (["incline-sensor:wrong-position"], {"incline-sensor": "service"}),
    # keys
    (["keypad-membrane:some-silent"], {"keypad-membrane": "replace", "ribbon": "service"}),
    (
        ["keypad-membrane:all-silent"],
        each("suspect", "power-cord", "safety-key", "ribbon", "console-board"),
    ),
    (["display:touch-fails"], {"display": "suspect"}),
    (["safety-key:missing"], {"safety-key": "replace"}),
    (["upright-cable:port-damaged"], {"upright-cable": "replace"}),
    (["motor-brushes:short"], {"motor-brushes": "replace"}),
]


@pytest.mark.parametrize(("found", "meaning"), TREADMILL, ids=lambda value: str(value)[:60])
def test_what_is_found_on_a_treadmill_means(found, meaning):
    assert acts(*found) == meaning


def test_a_key_that_is_acknowledged_is_cleared_and_the_fault_sought_downstream():
    meaning = acts("motor-control-board:acknowledged-no-motion")
    assert meaning["keypad-membrane"] == meaning["keypad-overlay"] == "clear"
    assert {name for name, act in meaning.items() if act == "suspect"} == {
        "upright-cable",
        "motor-control-board",
        "drive-motor",
    }


@pytest.mark.parametrize("dead", ["motor-control-board:burnt", "drive-motor:seized"])
def test_what_died_over_a_worn_deck_is_called_a_consequence(dead):
    component = dead.split(":")[0]
    assert "consequence" in understood(dead, "deck:grooved")[component].reason
    assert "consequence" not in understood(dead)[component].reason


def test_cleaning_a_belt_warns_that_only_the_maker_says_how_to_lubricate():
    assert "as the maker says" in understood("running-belt:dry")["running-belt"].caution


@pytest.mark.parametrize(
    ("found", "kind"),
    [
        ("frame:cracked", "treadmill"),
        ("frame:cracked", "rower"),
        ("power-cord:damaged", "treadmill"),
        ("power-cord:damaged", "elliptical"),
        ("folding-latch:fails", "treadmill"),
        ("safety-key-switch:does-not-stop", "treadmill"),
        ("steps:sink", "stair-climber"),
        ("cables:frayed", "strength-machine"),
        ("selector-pin:bent", "strength-machine"),
    ],
)
def test_what_can_hurt_holds_the_machine(found, kind):
    assert all(verdict.hold for verdict in understood(found, kind=kind).values())
    assert understood(found, kind=kind)


@pytest.mark.parametrize(
    "found", ["deck:grooved", "lift-motor:dead", "frame:rusted", "running-belt:frayed"]
)
def test_wear_by_itself_holds_nothing(found):
    assert not any(verdict.hold for verdict in understood(found).values())


OTHERS = [
    ("elliptical", ["ramp-wheels:flat-spots"], {"ramp-wheels": "replace"}),
    ("elliptical", ["ramp-rails:grooved"], {"ramp-rails": "replace", "ramp-wheels": "replace"}),
    ("elliptical", ["bushings:play"], {"bushings": "replace"}),
    ("elliptical", ["pedal-arms:knock"], {"pedal-arms": "service", "bushings": "suspect"}),
    ("upright-bike", ["crank-bearings:play"], {"crank-bearings": "replace"}),
    ("upright-bike", ["crank-arms:stripped"], {"crank-arms": "replace", "pedals": "replace"}),
    (
        "upright-bike",
        ["console-board:dead-while-pedalled"],
        each("suspect", "generator", "upright-cable", "console-board"),
    ),
    ("recumbent-bike", ["resistance-magnet:no-change"], {"resistance-magnet": "suspect"}),
    ("indoor-cycle", ["seat-post:slips"], {"seat-post": "service"}),
    ("stair-climber", ["step-chain:worn"], {"step-chain": "replace"}),
    ("stair-climber", ["one-way-clutch:slips"], {"one-way-clutch": "replace"}),
    ("rower", ["drive-chain:dry"], {"drive-chain": "service"}),
    ("rower", ["return-cord:weak"], {"return-cord": "replace"}),
    ("rower", ["seat-rail:grooved"], {"seat-rail": "service"}),
    ("rower", ["seat-rollers:worn"], {"seat-rollers": "replace"}),
    ("rower", ["monitor:leaked-batteries"], {"monitor": "service"}),
    ("strength-machine", ["pulleys:cracked"], {"pulleys": "replace"}),
    ("strength-machine", ["guide-rods:dirty"], {"guide-rods": "service"}),
    ("strength-machine", ["upholstery:torn"], {"upholstery": "replace"}),
]


@pytest.mark.parametrize(("kind", "found", "meaning"), OTHERS, ids=lambda value: str(value)[:60])
def test_what_is_found_on_another_kind_means(kind, found, meaning):
    assert acts(*found, kind=kind) == meaning
