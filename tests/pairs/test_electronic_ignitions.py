"""The van with every sort of ignition: targets without danger, fates of wires, reasons, steps."""

from every_case import every_case
from pair_facts import assert_fates, compared, part_fates, serious, sized, wire_fates

from upgrade_planner.configuration.kinds import Family
from upgrade_planner.documents.words.reasons import reason_words
from upgrade_planner.documents.words.standing import procedure_words
from upgrade_planner.planning.facts import facts_of
from upgrade_planner.planning.operations import Phase
from upgrade_planner.planning.standing_data import hazards, readings, standing_steps

BALLAST, RESISTANCE, UPGRADED = "van_original_ballast", "van_original_resistance", "van_upgraded"
TARGETS = (
    "van_trigger_module",
    "van_full_voltage_points",
    "van_external_module",
    "van_discharge_unit",
    "van_discharge_unit_pick_up",
    "van_coil_pack",
)


@every_case("name", TARGETS)
def test_targets_are_clean(name):
    assert serious(name) == set()


def reason(before, after, wire_id, disposition):
    (change,) = (
        change
        for change in compared(before, after).wires
        if change.wire.id == wire_id and str(change.disposition) == disposition
    )
    return reason_words(change.reasons, "metric")


class TestWires:
    def test_trigger_module_keeps_coil_ballast_and_their_wires(self):
        after = "van_trigger_module"
        assert_fates(
            wire_fates(BALLAST, after),
            {
                "ignition-feed": "keep",
                "coil-feed": "keep",
                "tachometer": "keep",
                "points-lead": "move",
                "module-supply": "add",
            },
        )
        assert_fates(
            part_fates(BALLAST, after),
            {"coil": "keep", "ballast": "keep", "distributor": "rebuild"},
        )

    def test_discharge_unit_clears_the_coil_and_keeps_it(self):
        after = "van_discharge_unit"
        assert_fates(
            wire_fates(RESISTANCE, after),
            {
                "ignition-resistance": "cap off",
                "start-bypass": "cap off",
                "tachometer": "move",
                "unit-supply": "add",
                "unit-return": "add",
                "unit-ground": "add",
            },
        )
        assert_fates(part_fates(RESISTANCE, after), {"coil": "keep", "distributor": "rebuild"})

    def test_pick_up_unit_starts_from_the_integral_coil(self):
        after = "van_discharge_unit_pick_up"
        assert_fates(
            wire_fates(UPGRADED, after),
            {
                "pick-up-plus": "add",
                "pick-up-minus": "add",
                "charge-output": "keep",
                "charge-lamp": "move",
            },
        )

    def test_coil_pack_leaves_nothing_of_the_old_ignition(self):
        after = "van_coil_pack"
        assert_fates(
            part_fates(RESISTANCE, after),
            {"coil": "remove", "distributor": "remove", "coil_pack": "add", "pick_up": "add"},
        )
        assert_fates(
            wire_fates(RESISTANCE, after),
            {"ignition-resistance": "cap off", "points-lead": "remove", "coil-drive-3": "add"},
        )


@every_case(
    ("before", "after", "wire_id", "disposition", "words"),
    [
        (BALLAST, "van_trigger_module", "module-supply", "add", "before the ballast"),
        (BALLAST, "van_trigger_module", "start-bypass", "cap off", "new wire takes over"),
        (RESISTANCE, "van_external_module", "ignition-resistance", "cap off", "ballast resistor"),
        (RESISTANCE, "van_external_module", "module-lead", "add", "in place of the points"),
        (RESISTANCE, "van_external_module", "module-ground", "add", "coil current returns"),
        (RESISTANCE, "van_external_module", "pick-up-plus", "add", "twisted"),
        (RESISTANCE, "van_full_voltage_points", "ignition-resistance", "cap off", "weaken"),
        (RESISTANCE, "van_full_voltage_points", "start-bypass", "cap off", "feed back"),
        (RESISTANCE, "van_full_voltage_points", "ignition-feed", "add", "run and start"),
        (RESISTANCE, "van_discharge_unit", "ignition-resistance", "cap off", "fires the coil"),
        (RESISTANCE, "van_discharge_unit", "start-bypass", "cap off", "nothing else"),
        (BALLAST, "van_discharge_unit", "coil-feed", "cap off", "hundred volts"),
        (RESISTANCE, "van_discharge_unit", "unit-supply", "add", "straight from the battery"),
        (RESISTANCE, "van_discharge_unit", "ignition-feed", "add", "switches the unit on"),
        (RESISTANCE, "van_discharge_unit", "points-lead", "add", "only trigger"),
        (RESISTANCE, "van_discharge_unit", "unit-ground", "add", "spark returns"),
        (UPGRADED, "van_discharge_unit_pick_up", "tachometer", "add", "own output"),
        (
            UPGRADED,
            "van_discharge_unit_pick_up",
            "lamp-diode-lead",
            "add",
            "after it is switched off",
        ),
        (RESISTANCE, "van_coil_pack", "coil-drive-2", "add", "take turns"),
        (RESISTANCE, "van_coil_pack", "start-bypass", "cap off", "full voltage"),
        (RESISTANCE, "van_coil_pack", "fuse-feed", "add", "full battery voltage"),
    ],
)
def test_reason_names_what_decides(before, after, wire_id, disposition, words):
    assert words in reason(before, after, wire_id, disposition)


@every_case("name", TARGETS)
def test_no_wire_of_the_ignition_is_left_without_a_reason(name):
    circuits = ("ignition feed", "ignition primary", "start bypass", "trigger", "tachometer")
    for change in compared(RESISTANCE, name).wires:
        wire = change.wire
        if wire.circuit in circuits:
            words = reason_words(change.reasons, "metric")
            assert "The target" not in words or "coil of the target" in words, wire


def ids_of(before, after):
    """Standing steps, readings and messages of a job, by id."""
    facts = facts_of(compared(before, after))
    steps = {step.procedure.id.partition(":")[2] for step in standing_steps(facts, "ABCDEFGHIJKL")}
    taken = {reading.id for reading in readings(facts, sized(after))}
    return steps, taken, {hazard.id for hazard in hazards(facts)}


class TestStandingData:
    def test_points_job_has_nothing_of_electronics(self):
        steps, taken, told = ids_of(BALLAST, RESISTANCE)
        assert not steps & {"trigger-gap", "module-base", "pick-up-winding", "hold-coil-alone"}
        assert "points-ground" in taken
        assert "coil-supply" in taken
        assert "discharge-voltage" not in told

    def test_trigger_module(self):
        steps, taken, _ = ids_of(BALLAST, "van_trigger_module")
        assert {
            "points-and-condenser-out",
            "trigger-gap",
            "module-base",
            "timing",
            "no-dwell",
        } <= steps
        assert "unit-supply" in taken
        assert not taken & {"points-ground", "coil-supply", "ballast-drop"}  # limits are of points

    def test_discharge_unit_is_never_measured_at_its_coil(self):
        for before, after in (
            (RESISTANCE, "van_discharge_unit"),
            (UPGRADED, "van_discharge_unit_pick_up"),
        ):
            steps, taken, told = ids_of(before, after)
            assert "hold-coil-alone" in steps
            assert "discharge-voltage" in told
            assert {"discharge-supply", "discharge-supply-loaded"} <= taken
            facts = facts_of(compared(before, after))
            from upgrade_planner.readings.points import placed

            for reading in readings(facts, sized(after)):
                at = placed(reading.point, sized(after))
                touched = {str(probe.ref) for probe in (at.live, at.ground)}
                assert not {r for r in touched if r.startswith("coil.")}, reading.id

    def test_discharge_unit_that_comes_out_is_feared_too(self):
        _, _, told = ids_of("van_discharge_unit", BALLAST)
        assert "discharge-voltage" in told

    def test_pick_up_steps(self):
        steps, _, _ = ids_of(UPGRADED, "van_discharge_unit_pick_up")
        assert {"old-module-out", "pick-up-winding", "pick-up-pair", "trigger-gap"} <= steps
        told = {
            step.procedure.code: procedure_words(step.procedure, "metric")
            for step in standing_steps(
                facts_of(compared(UPGRADED, "van_discharge_unit_pick_up")), Phase
            )
        }
        assert "about 800 Ω" in told["pick-up-winding"].expected
        lead = "signal lead at the capacitor-discharge unit"
        assert told["ignition-off"].instruction == f"Disconnect the {lead}."

    def test_coil_pack_steps(self):
        steps, taken, _ = ids_of(RESISTANCE, "van_coil_pack")
        assert {"coil-pack-pairs", "pick-up-winding", "timing"} <= steps
        facts = facts_of(compared(RESISTANCE, "van_coil_pack"))
        assert (facts["ignition_role"], facts["pick_up_role"]) == ("coil_pack", "pick_up")
        assert "module-ground-loaded" in taken


@every_case("vehicle", ["van", "tractor", "pickup"])
def test_what_only_feeds_a_module_is_thin_behind_a_fuse_of_its_own(vehicle):
    """A thick lead into a plate that moves breaks; a tenth of an ampere does not ask for it."""
    configuration = sized(f"{vehicle}_trigger_module")
    supply = configuration.wire_by_id["module-supply"]
    assert supply.size.area_mm2 <= 1.5
    (fuse,) = {end.role for end in supply.ends} & {
        part.role for part in configuration.parts_of(Family.PROTECTION)
    }
    assert configuration.component(fuse).ratings["rated_current"] <= 5
