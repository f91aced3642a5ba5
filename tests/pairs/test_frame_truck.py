"""The truck with a separate frame: straps, regulator, ignition, relays."""

from every_case import every_case
from pair_facts import assert_fates, codes, found, lost_v, part_fates, points, serious, wire_fates

ORIGINAL, FOUND, STRAPS = "truck_original", "truck_as_found", "truck_straps_renewed"
TARGETS = (
    STRAPS,
    "truck_internal_regulator",
    "truck_external_module",
    "truck_headlamp_relays",
    "truck_fan_and_pump",
)


@every_case("name", TARGETS)
def test_targets_are_clean(name):
    assert serious(name) == set()


def test_as_built_nothing_guards_the_alternator():
    (unguarded,) = [f for f in found(ORIGINAL) if f.code == "PROT-NONE" and "main-feed" in f.where]
    assert "charge-output" in unguarded.where
    assert "PROT-OUTPUT" in codes(ORIGINAL)


def test_bad_straps_are_found_and_named():
    thin = {f.where[0] for f in found(FOUND) if f.code == "GND-STRAP-THIN"}
    assert thin == {"engine-strap", "frame-strap"}
    lifted = next(f for f in found(FOUND) if f.code == "GND-LOADED")
    assert {"headlamp_left_low", "stop_lamp_left", "fuel_sender"} <= set(lifted.where)
    assert not {code for code in codes(ORIGINAL) if code.startswith("GND")}


def test_new_straps_and_one_more():
    assert_fates(
        wire_fates(FOUND, STRAPS),
        {
            "engine-strap": "resize",
            "frame-strap": "resize",
            "cab-frame-strap": "add",
            "battery-ground": "keep",
            "high-beam": "keep",
            "stop-lamps": "keep",
        },
    )


def test_new_straps_bring_the_grounds_home():
    for role in ("tail_lamp_left", "headlamp_left_low"):
        bad, good = (points(n)["loaded"].node_v(f"{role}.case") for n in (FOUND, STRAPS))
        assert bad > 0.1 > 0.05 > good


def test_internal_regulator_empties_the_wing():
    after = "truck_internal_regulator"
    assert_fates(
        part_fates(ORIGINAL, after),
        {
            "alternator": "replace",
            "regulator": "remove",
            "regulator_fuse": "remove",
            "charge_lamp": "keep",
            "coil": "keep",
            "start_relay": "keep",
        },
    )
    assert_fates(
        wire_fates(ORIGINAL, after),
        {
            "field": "remove",
            "field-relay": "remove",
            "regulator-ground": "remove",
            "regulator-feed": "remove",
            "regulator-supply": "cap off",
            "charge-lamp": "add cap off",
            "charge-output": "resize",
            "main-link": "add",
            "ignition-resistance": "keep",
            "engine-strap": "keep",
        },
    )


def test_module_wants_the_resistance_wire_out_of_the_way():
    after = "truck_external_module"
    assert_fates(
        part_fates(ORIGINAL, after),
        {
            "distributor": "replace",
            "coil": "replace",
            "ballast": "add",
            "ignition_module": "add",
            "regulator": "keep",
            "alternator": "keep",
        },
    )
    assert_fates(
        wire_fates(ORIGINAL, after),
        {
            "ignition-resistance": "cap off",
            "ignition-feed": "add",
            "module-supply": "add",
            "coil-feed": "add",
            "module-ground": "add",
            "pick-up-plus": "add",
            "pick-up-minus": "add",
            "points-lead": "remove",
            "field": "keep",
        },
    )


def test_headlamp_relays_use_the_old_wires_for_their_coils():
    after = "truck_headlamp_relays"
    assert_fates(
        wire_fates(ORIGINAL, after),
        {
            "low-beam": "move",
            "high-beam": "move",
            "low-beam-right": "keep",
            "high-beam-right": "keep",
            "head-switch": "keep",
            "head-fused": "keep",
            "low-beam-supply": "add",
            "high-beam-supply": "add",
            "lamp-relay-feed": "add",
        },
    )
    way = ("main_junction.stud", "headlamp_right_low.supply")
    assert lost_v(after, *way) < 2 / 3 * lost_v(ORIGINAL, *way)
    assert abs(points(after)["loaded"].wire_current_a("low-beam")) < 0.3


def test_pump_stands_with_the_engine():
    after = points("truck_fan_and_pump")
    running = {
        name: abs(point.element_current_a("fuel_pump:supply")) > 1 for name, point in after.items()
    }
    assert running == {
        "off": False,
        "key_on": False,
        "cranking": True,
        "idling": True,
        "loaded": True,
        "coasting": False,
    }
    assert part_fates(ORIGINAL, "truck_fan_and_pump")["oil_pressure_switch"] == "add"
