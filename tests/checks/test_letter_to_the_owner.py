"""What `check` says of a car as it was found: what is wrong, why it matters, what to do first."""

from every_case import every_case
from in_process import run
from pair_facts import found, sized
from told_findings import told

from upgrade_planner.checks.causes import every
from upgrade_planner.checks.checking import check
from upgrade_planner.checks.findings import Severity
from upgrade_planner.configuration.edits import Resize, edited
from upgrade_planner.configuration.values.sizes import parse_wire_size
from upgrade_planner.electrical.lasting_current import lasting_current

AS_FOUND = ("van_as_found", "pickup_as_found", "saloon_as_found", "rear_as_found", "truck_as_found")
HARM = ("burn", "dies", "die", "cannot", "nothing is charged", "pumps fuel", "pipes", "wires.")
ABOVE_NOTE = (Severity.DANGER, Severity.WARNING, Severity.CAUTION)


def of(name, code):
    return [finding for finding in found(name) if finding.code == code]


@every_case("name", AS_FOUND)
def test_each_finding_says_what_comes_of_it(name):
    for finding in found(name):
        words = told(finding)
        if finding.severity in ABOVE_NOTE and not words.why:
            assert any(harm in f"{words.what} {words.remedy}" for harm in HARM), words.what


@every_case("name", AS_FOUND)
def test_the_first_line_is_the_first_thing_to_do(name, tmp_path):
    lines = run("check", name, cwd=tmp_path).stdout.splitlines()
    first = told(found(name)[0]).remedy.split(" (about")[0].split(":")[0]
    assert "To do first" in lines[0]
    assert first.split()[0] in " ".join(lines[:2])


def test_a_thin_charge_wire_is_no_matter_of_the_connector_it_passes():
    """Past the connector, the wire would be as hot as before."""
    (hot,) = (f for f in of("pickup_as_found", "DROP-HOT") if f.where == ("charge-output",))
    assert hot.severity is Severity.DANGER
    (cavity,) = of("pickup_as_found", "CHG-CAVITY")
    assert all("charge-output" not in f.where for f in every([cavity]))


def test_loss_in_a_ground_wire_takes_no_loss_of_the_feed_along():
    (ground,) = (f for f in of("pickup_as_found", "DROP-WIRE") if f.cause == "ground")
    assert "DROP-PATH" not in {f.code for f in ground.follows}


def test_a_fuse_far_too_big_is_changed_before_a_wire_grows():
    (late,) = of("saloon_as_found", "PROT-LATE")
    assert late.remedy.code == "fit-fuse-of"
    mended = edited(sized("saloon_as_found"), late.remedy.edits)
    assert not {"PROT-LATE"} & {f.code for f in every(check(mended))}


def test_the_bridge_of_an_interlock_comes_first_and_out():
    (bridged,) = of("pickup_as_found", "STA-INTERLOCK")
    assert bridged.where[0] == "found-neutral-bridge"
    assert "found-neutral-bridge out" in told(bridged).remedy


def test_what_somebody_added_without_a_fuse_is_a_danger_and_what_was_built_so_a_warning():
    heads = {f.where[0]: f.severity for f in of("pickup_as_found", "PROT-NONE")}
    assert heads["found-work-lamp"] is Severity.DANGER
    assert heads["ammeter-feed"] is Severity.WARNING
    assert {f.severity for f in of("pickup_original", "PROT-NONE")} == {Severity.WARNING}


def test_the_length_that_may_be_unfused_says_that_it_is_borrowed_from_boats():
    assert "for boats" in told(of("van_original_ballast", "PROT-NONE")[0]).source
    assert "for boats" not in told(of("launch_original", "PROT-NONE")[0]).source


def test_a_wire_behind_a_winding_is_not_named_beside_its_unfused_feed():
    """What the solenoid passes to an engine without its strap is no feed of the field."""
    (button,) = (f for f in of("rear_as_found", "PROT-NONE") if "found-button" in f.where)
    assert "field" not in button.where


def test_a_loss_up_to_twice_the_limit_is_a_caution():
    (bypass,) = of("tractor_original", "DROP-WIRE")
    assert bypass.severity is Severity.CAUTION
    output = next(f for f in every(found("van_as_found")) if _is_loss_of(f, "charge-output"))
    assert output.severity is Severity.WARNING


def _is_loss_of(finding, wire):
    return finding.code == "DROP-WIRE" and finding.where == (wire,)


def thin(base, wire, size):
    return edited(sized(base), (Resize(wire, parse_wire_size(size)),))


class TestWireBehindALink:
    def late(self, configuration, wire):
        return next(f for f in check(configuration) if f.where[:1] == (wire,))

    def test_is_offered_a_fuse_that_suits_it_before_far_thicker_copper(self):
        van = thin("van_upgraded", "lamp-feed", "18 SAE")
        remedy = self.late(van, "lamp-feed").remedy
        assert remedy.code == "fit-own-fuse-or-size"
        may_a = lasting_current(van.wire_by_id["lamp-feed"], van)[0]
        assert remedy.facts["rating"].number <= may_a

    def test_is_offered_none_where_the_output_would_blow_it(self):
        remedy = self.late(thin("pickup_upgraded", "main-feed", "18 SAE"), "main-feed").remedy
        assert remedy.code != "fit-own-fuse-or-size"

    def test_is_offered_none_where_its_copper_loses_too_much_as_well(self):
        found = self.late(
            thin("van_upgraded", "accessory-fuse-feed", "18 SAE"), "accessory-fuse-feed"
        )
        assert "DROP-WIRE" in {f.code for f in found.follows}
        assert found.remedy.code != "fit-own-fuse-or-size"
