"""An independent fault is told beside a larger one, with its own remedy."""

from attrs import evolve

from upgrade_planner.checks.checking import check
from upgrade_planner.configuration.edits import Resize, TakeOut, edited
from upgrade_planner.configuration.model import TerminalRef
from upgrade_planner.configuration.values.sizes import parse_wire_size


def by_code(findings):
    return {finding.code: finding for finding in findings}


def test_a_thin_wire_is_told_beside_a_lost_strap(load):
    """Heat in a wire of the lamps has nothing to do with the ground of the engine."""
    van = load("van_upgraded")
    thin = Resize("heater-feed", parse_wire_size("20 SAE"))
    strapless = (TakeOut("battery-ground"), TakeOut("engine-strap"))
    told = by_code(check(edited(van, (thin, *strapless))))
    assert "GND-NO-PATH" in told
    ours = [f for f in told.values() if "heater-feed" in f.where[:1] and f.remedy.edits]
    assert ours, {code: f.where for code, f in told.items()}


def test_a_fuse_too_large_for_its_wire_is_told_beside_a_short(load):
    van = load("van_upgraded")
    wire = van.wire_by_id["horn"]
    shorted = evolve(
        wire, start=TerminalRef("main_junction", "stud"), end=TerminalRef("body_ground", "stud")
    )
    wires = tuple(shorted if w.id == "horn" else w for w in van.wires)
    thin = Resize("heater-feed", parse_wire_size("20 SAE"))
    told = check(edited(evolve(van, wires=wires), (thin,)))
    assert told[0].code == "PWR-SHORT"
    assert any("heater-feed" in f.where[:1] and f.remedy.edits for f in told)


def test_what_follows_from_a_short_stays_inside_it(load):
    van = load("van_upgraded")
    wire = van.wire_by_id["horn"]
    shorted = evolve(
        wire, start=TerminalRef("main_junction", "stud"), end=TerminalRef("body_ground", "stud")
    )
    told = check(evolve(van, wires=tuple(shorted if w.id == "horn" else w for w in van.wires)))
    hot = [f for f in told if f.code == "DROP-HOT"]
    assert not hot, hot[0].where
