"""Which rules a vehicle's wires are judged by: road, farm, marine."""

from attrs import evolve
from every_case import every_case
from pair_facts import found, sized

from upgrade_planner.checks.causes import every
from upgrade_planner.checks.checking import check
from upgrade_planner.configuration.edits import Resize, edited
from upgrade_planner.configuration.values.insulation import parse_insulation
from upgrade_planner.configuration.values.sizes import parse_wire_size, sizes_in
from upgrade_planner.documents.words.findings import finding_words
from upgrade_planner.electrical.bundles import wires_along
from upgrade_planner.electrical.heat_balance import conductor_temperature
from upgrade_planner.electrical.lasting_current import lasting_current
from upgrade_planner.electrical.operating_points import operating_points
from upgrade_planner.library.pairs import ready_pairs

TARGETS = sorted({pair.after for pair in ready_pairs()})
BOAT_RULE = "183.425"
OF_CURRENT = ("DROP-CURRENT", "DROP-HOT", "PROT-OUTPUT")


def by_rules(configuration, rules):
    equipment = evolve(configuration.vehicle.equipment, rules=rules)
    return evolve(configuration, vehicle=evolve(configuration.vehicle, equipment=equipment))


def with_output(size):
    """The upgraded van, 63 A, with another charge wire of crosslinked insulation, 1.5 m long."""
    van = sized("van_upgraded")
    wires = tuple(
        evolve(w, size=parse_wire_size(size), insulation=parse_insulation("GXL"))
        if w.id == "charge-output"
        else w
        for w in van.wires
    )
    run = evolve(van.runs["charge-output"], length_m=1.5)
    return evolve(van, wires=wires, runs={**van.runs, "charge-output": run})


@every_case(
    ("name", "rules"),
    [
        ("van_upgraded", "road"),
        ("saloon_original", "road"),
        ("tractor_upgraded", "farm"),
        ("launch_complete", "marine"),
    ],
)
def test_what_a_vehicle_is_built_as_chooses_its_rules(name, rules):
    assert sized(name).vehicle.equipment.rules == rules


@every_case("name", TARGETS)
def test_no_boat_table_judges_a_vehicle_that_is_no_boat(name):
    if sized(name).vehicle.equipment.rules != "marine":
        codes = {f.code for f in found(name) if BOAT_RULE in finding_words(f, "metric").source}
        assert codes == set()


def test_a_boat_is_judged_by_its_table():
    launch = sized("launch_complete")
    wire = next(w for w in launch.wires if w.circuit == "charge output")
    assert BOAT_RULE in lasting_current(wire, launch)[1]
    assert BOAT_RULE not in lasting_current(wire, by_rules(launch, "road"))[1]


def of_output(findings):
    """What is said of current and heat; that its link must suit its size is another rule."""
    ours = (f for f in every(findings) if "charge-output" in f.where)
    return [f for f in ours if f.code in OF_CURRENT]


def test_the_practice_of_the_trade_is_silent_and_one_size_more_is_a_note():
    # 10 gauge, 1.5 m, 63 A, crosslinked: what shops fit
    findings = check(with_output("10 SAE"))
    assert of_output(findings) == []
    (note,) = (f for f in findings if f.code == "SIZE-GAIN")
    assert note.where == ("charge-output",)
    assert note.facts["larger"] == parse_wire_size("8 SAE")
    assert note.facts["cooler"].number < note.limit.number < note.value.number


def test_one_size_less_than_practice_is_told():
    assert "PROT-OUTPUT" in {f.code for f in of_output(check(with_output("12 SAE")))}


def test_on_a_boat_the_same_wire_is_too_thin():
    boat = by_rules(with_output("10 SAE"), "marine")
    assert "PROT-OUTPUT" in {f.code for f in of_output(check(boat))}


def test_a_machine_has_one_finding_with_all_wires_that_are_too_thin():
    (finding,) = (f for f in found("van_original_ballast") if f.code == "PROT-OUTPUT")
    assert len(finding.where) > 1
    assert finding.where[0] == "charge-output"


def test_wires_below_sixteen_gauge_are_a_matter_for_boats():
    van = sized("van_upgraded")
    assert "SIZE-REGULATION" not in {f.code for f in check(van)}
    assert "SIZE-REGULATION" in {f.code for f in check(by_rules(van, "marine"))}


def test_a_hot_wire_has_one_finding_where_heat_is_the_rule():
    for finding in found("van_original_ballast"):
        if finding.code == "DROP-CURRENT":
            hot = {
                n for f in found("van_original_ballast") if f.code == "DROP-HOT" for n in f.where
            }
            assert not hot & set(finding.where)


def _thinned(saloon):
    """Wires of the loom through the bulkhead so thin that each, alone, is just cool enough."""
    point = operating_points(saloon)["loaded"]
    ends = {"behind_dash", "bulkhead_engine_side"}
    route = next(r for r in saloon.routes if {r.start, r.end} == ends)
    amps = {w.id: abs(point.wire_current_a(w.id)) for w in wires_along(route, saloon)}
    loaded = [name for name, current_a in amps.items() if current_a > 2]
    plastic = parse_insulation("PVC")  # to 70 °C; the wires beside them are in cotton, to 60 °C
    wires = tuple(evolve(w, insulation=plastic) if w.id in loaded else w for w in saloon.wires)
    edits = [
        Resize(name, _just_cool(1.05 * amps[name], saloon.runs[name].ambient_c)) for name in loaded
    ]
    return edited(evolve(saloon, wires=wires), edits)


def _just_cool(current_a, air_c):
    return next(s for s in sizes_in("mm²") if conductor_temperature(s, current_a, air_c) < 69)


def test_wires_of_a_loom_heat_each_other_and_the_rule_of_boats_knows_none_of_it():
    saloon = _thinned(sized("saloon_fuses"))
    (hot,) = (f for f in every(check(saloon)) if f.code == "DROP-HOT")
    assert hot.cause == "among"
    assert hot.facts["alone"].number <= hot.limit.number < hot.value.number
    mended = every(check(edited(saloon, hot.remedy.edits)))
    assert "DROP-HOT" not in {f.code for f in mended}
    assert "DROP-HOT" not in {f.code for f in every(check(by_rules(saloon, "marine")))}


def test_a_loom_is_no_fault_of_its_own_where_one_wire_of_it_is_too_hot():
    hot = [f for f in every(check(sized("pickup_as_found"))) if f.code == "DROP-HOT"]
    assert {f.cause for f in hot} == {"alone"}
