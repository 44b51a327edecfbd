"""The trade's facts of wear and fault, one by one. All: common practice, no published source."""

import pytest

from units.inspections.domain.understanding import verdicts
from units.inspections.selectors import findable, protocol_tables, understanding_rules


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


# --- The trade's facts that are not of the form "found this, do that"


def rule_of(key):
    return next(rule for rule in understanding_rules() if rule.key == key)


def steps_of(slug):
    return {s.key: s for p in protocol_tables() if p.slug == slug for s in p.steps}


ARRIVAL = steps_of("treadmill-arrival")


def test_the_look_is_unplugged_a_hand_along_the_landing_zone_and_a_smooth_end_proves_nothing():
    look = ARRIVAL["foot-strike"]
    assert look.power == "off"
    assert "unplug" in look.cautions
    assert "a hand between belt and deck, all along the landing zone" in look.instruction
    assert "A smooth rear end proves nothing" in look.instruction


def test_a_belt_is_judged_by_its_underside_and_colour_alone_proves_nothing():
    look = ARRIVAL["belt-underside"]
    assert "Its top says nothing, and colour alone proves nothing" in look.instruction
    said = {condition for _component, condition in findable()["treadmill"]}
    assert not said & {"black", "brown", "dark", "discoloured", "yellowed"}


def test_the_stages_of_belt_and_deck_are_all_there():
    belt = {
        row["condition"]
        for key in ("belt-underside", "belt-tension")
        for row in ARRIVAL[key].conditions
    }
    assert {"clean", "dirty", "dry", "glazed", "frayed", "stretched"} <= belt
    deck = {row["condition"] for row in ARRIVAL["foot-strike"].conditions}
    assert {"smooth", "grooved", "worn-through"} <= deck


@pytest.mark.parametrize("belt", ["dirty", "dry"])
def test_a_dirty_or_dry_belt_is_cleaned_and_measured_again_and_only_the_maker_says_how(belt):
    verdict = understood("deck:smooth", f"running-belt:{belt}")["running-belt"]
    assert "lubricate as the maker says" in verdict.reason
    assert "measure the current again" in verdict.reason
    assert "factory-waxed and must not be" in verdict.caution


def test_an_over_tight_belt_raises_the_current_too():
    assert "raises the current" in understood("running-belt:over-tight")["running-belt"].reason
    assert acts("running-belt:over-tight", "drive-motor:high-current")["drive-motor"] == "clear"


def test_slip_asks_which_of_the_two_belts_slips():
    verdict = understood("running-belt:slips")["drive-belt"]
    assert "which of the two belts" in verdict.reason
    assert {check.component for check in verdict.checks} == {"running-belt", "drive-belt"}


@pytest.mark.parametrize("deck", ["grooved", "worn-through", "worn-other-face-sound"])
@pytest.mark.parametrize("belt", ["clean", "dirty", "dry", "glazed", "frayed", "stretched"])
def test_belt_and_deck_surface_go_together_whatever_the_belt_looks_like(deck, belt):
    said = understood(f"deck:{deck}", f"running-belt:{belt}")
    assert said["deck"].pair == said["running-belt"].pair == "belt-and-deck"
    assert said["running-belt"].act == "replace"


def test_a_deck_whose_other_face_is_sound_may_be_turned_instead_of_bought():
    assert acts(OTHER_FACE)["deck"] == "service"
    assert "turn it instead of buying one" in understood(OTHER_FACE)["deck"].reason


@pytest.mark.parametrize("dead", [BURNT, SEIZED])
@pytest.mark.parametrize("deck", ["grooved", "worn-through", "worn-other-face-sound"])
def test_cause_and_consequence_are_both_on_the_estimate_and_told_in_one_sentence(dead, deck):
    said = understood(dead, f"deck:{deck}")
    component = dead.split(":")[0]
    assert said[component].act == "replace"
    assert said[component].because_of == ("deck",)
    assert said["deck"].act in ("replace", "service")
    assert "friction is the cause" in said[component].reason


@pytest.mark.parametrize("dead", [BURNT, SEIZED])
def test_a_dead_board_or_motor_is_not_cleared_by_the_friction_that_killed_it(dead):
    said = acts(dead, "deck:grooved", "drive-motor:high-current")
    assert said[dead.split(":")[0]] == "replace"


def test_a_breaker_that_trips_under_load_is_friction_until_measured():
    verdict = understood("breaker:trips-under-load")["deck"]
    assert "until the current is measured" in verdict.reason
    assert [check.component for check in verdict.checks] == ["deck", "drive-motor"]


def test_the_drive_belt_is_not_the_running_belt():
    assert "not the running belt" in ARRIVAL["drive-belt"].instruction


def test_the_incline_is_run_to_the_top_and_back_since_its_owner_may_never_have():
    assert "Run it to the top and back down" in ARRIVAL["incline"].instruction
    assert "never learns that it is dead" in ARRIVAL["incline"].instruction


def test_a_lift_motor_idle_for_years_is_under_suspicion_until_it_was_run():
    assert acts("frame:idle") == {"lift-motor": "suspect"}
    assert acts("frame:idle", "lift-motor:full-range") == {}
    dead = understood("frame:idle", "lift-motor:dead")["lift-motor"]
    assert (dead.act, dead.rule) == ("replace", "lift-idle-and-dead")


@pytest.mark.parametrize(
    "found", [BURNT, "lift-motor:dead", "incline-sensor:not-calibrated", "speed-sensor:hunts"]
)
def test_after_a_lift_motor_or_board_the_machine_is_calibrated(found):
    assert any("alibrate" in verdict.reason for verdict in understood(found).values())


def test_every_key_is_pressed_sound_on_and_the_start_key_last_standing_off_the_belt():
    look = ARRIVAL["keys"]
    assert "Sound on, press every key that is active in this state" in look.instruction
    assert "the start key last, standing off the belt" in look.instruction
    assert "stand-off" in look.cautions


def test_of_some_silent_keys_the_ribbon_is_first_and_the_layers_are_joined():
    verdict = understood("keypad-membrane:some-silent")["keypad-membrane"]
    assert [check.component for check in verdict.checks] == ["ribbon"]
    assert "one dead key means that more will follow" in verdict.reason


def test_of_all_silent_keys_power_safety_key_ribbon_and_board_come_first():
    verdict = understood("keypad-membrane:all-silent")["ribbon"]
    order = [check.component for check in verdict.checks]
    assert order == ["safety-key", "power-cord", "ribbon", "console-board"]
    assert "keypad-membrane" not in acts("keypad-membrane:all-silent")


def test_an_acknowledged_key_points_downstream_with_the_next_checks_in_order_of_cost():
    verdict = understood("motor-control-board:acknowledged-no-motion")["upright-cable"]
    minutes = [check.minutes for check in verdict.checks]
    assert minutes == sorted(minutes)
    assert {check.component for check in verdict.checks} == {
        "motor-control-board",
        "upright-cable",
        "drive-motor",
    }


def test_silent_keys_are_replaced_even_where_another_key_was_acknowledged():
    said = acts("motor-control-board:acknowledged-no-motion", "keypad-membrane:some-silent")
    assert said["keypad-membrane"] == "replace"


def test_a_touch_screen_has_its_own_rule_that_ends_with_replacing_it():
    assert understood("display:touch-fails")["display"].checks[0].look.startswith("Clean it")


def test_a_self_powered_console_is_pedalled_before_it_is_called_dead():
    for kind in ("upright-bike", "recumbent-bike", "elliptical"):
        step = steps_of(f"{kind}-arrival")["power-on"]
        assert "pedal first" in step.instruction.lower()
    verdict = understood("console-board:dead-while-pedalled", kind="upright-bike")["generator"]
    assert verdict.checks[0].look.startswith("Pedal")


def test_the_left_pedal_thread_is_left_hand():
    verdict = understood("crank-arms:stripped", kind="upright-bike")["crank-arms"]
    assert "the left one has a left-hand thread" in verdict.reason


CLUB_SET = ["running-belt", "deck", "drive-belt", "motor-brushes"]


def club(*found):
    pairs = [tuple(text.split(":")) for text in found]
    said = verdicts(pairs, understanding_rules(), "treadmill", "club")
    return {each.component: each for each in said}


def test_of_a_club_machine_the_drives_set_is_expected_until_looked_at():
    assert {name: v.act for name, v in club().items()} == each("expect", *CLUB_SET)
    assert "nobody retires a perfect machine" in club()["deck"].reason


def test_what_was_looked_at_on_a_club_machine_is_found_and_no_longer_expected():
    seen = club("deck:smooth", "running-belt:clean", "drive-belt:sound", "motor-brushes:good")
    assert seen == {}
    worn = club("deck:grooved", "drive-belt:sound", "motor-brushes:good")
    assert {name: v.act for name, v in worn.items()} == PAIR


def test_a_belt_alone_is_expected_where_the_deck_was_found_smooth():
    said = club("deck:smooth", "drive-belt:sound", "motor-brushes:good")
    assert {name: v.act for name, v in said.items()} == {"running-belt": "expect"}


def test_a_look_that_was_not_possible_is_no_look():
    assert club("deck:not-possible")["deck"].act == "expect"


@pytest.mark.parametrize("population", ["", "private", "repair"])
def test_nothing_is_expected_of_a_machine_from_elsewhere(population):
    assert verdicts([], understanding_rules(), "treadmill", population) == []


@pytest.mark.parametrize("kind", sorted(findable()))
def test_already_taken_apart_is_not_bought_as_working_whatever_the_seller_says(kind):
    said = understood("frame:taken-apart", kind=kind)
    assert said
    assert all("not bought as working, whatever the seller" in v.reason for v in said.values())


def test_cable_and_ports_get_damaged_in_moves_unnoticed():
    assert "moves unnoticed" in rule_of("taken-apart").reason
    assert "in moves" in understood("upright-cable:port-damaged")["upright-cable"].reason


def test_age_alone_decides_nothing_and_use_is_asked_for():
    patterns = {said for r in understanding_rules() for _c, said in r.all | r.any | r.none}
    assert not patterns & {"old", "age", "years", "new"}
    asked = steps_of("treadmill-purchase")["use"]
    assert "Use matters more than age" in asked.instruction
    assert "a console that was swapped starts it anew" in asked.instruction


def test_a_shared_outlet_blames_the_house_and_leaves_it_to_an_electrician():
    verdict = understood("power-cord:shared-outlet")["power-cord"]
    assert verdict.act == "clear"
    assert "licensed electrician" in verdict.caution


def test_a_damaged_cord_is_not_excused_by_a_shared_outlet():
    verdict = understood("power-cord:shared-outlet", "power-cord:damaged")["power-cord"]
    assert (verdict.act, verdict.hold) == ("replace", True)
