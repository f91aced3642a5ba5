"""However relays are wired, the search for who is pulled in ends, and its answer agrees."""

from attrs import evolve
from hypothesis import given, settings
from hypothesis import strategies as st
from told_findings import told

from upgrade_planner.checks.checking import check
from upgrade_planner.configuration.loading import load_configuration
from upgrade_planner.configuration.model import Component, Terminal, TerminalRef
from upgrade_planner.electrical.network.unsolvable import NetworkError
from upgrade_planner.electrical.operated import coils_of
from upgrade_planner.electrical.operating_points import operating_point
from upgrade_planner.electrical.states import COASTING, KEY_ON, LOADED, OFF

NAMES = ("coil_in", "coil_out", "common", "normally_open", "normally_closed")
ROLES = ("relay_one", "relay_two", "relay_three")
NODES = (
    TerminalRef("main_junction", "stud"),
    TerminalRef("ignition_switch", "ignition"),
    TerminalRef("engine_ground", "stud"),
    TerminalRef("horn", "supply"),
    *(TerminalRef(role, name) for role in ROLES for name in NAMES),
)


@st.composite
def wirings(draw):
    """A tractor with three relays, each of whose terminals goes somewhere, sensible or not."""
    base = load_configuration("tractor_upgraded")
    pattern = base.component("horn")
    blade = pattern.terminals[0].connection
    relays = tuple(
        Component(
            role=role,
            kind="relay",
            name=role,
            place=pattern.place,
            terminals=tuple(Terminal(name=n, label=n, connection=blade) for n in NAMES),
            ratings={"coil_resistance": draw(st.sampled_from([40.0, 85.0, 300.0]))},
            note="",
            as_found=False,
            slot="changes",
            origin=pattern.origin,
        )
        for role in ROLES
    )
    wire = base.wire_by_id["gauge-supply"]
    run = base.runs[wire.id]
    ends = [TerminalRef(role, name) for role in ROLES for name in NAMES]
    targets = draw(st.lists(st.sampled_from(NODES), min_size=len(ends), max_size=len(ends)))
    pairs = [(a, b) for a, b in zip(ends, targets, strict=True) if a != b]
    new = tuple(
        evolve(wire, id=f"r{number}", start=a, end=b) for number, (a, b) in enumerate(pairs)
    )
    components = tuple(sorted((*base.components, *relays), key=lambda part: part.role))
    return evolve(
        base,
        components=components,
        wires=(*base.wires, *new),
        runs={**base.runs, **{w.id: run for w in new}},
    )


@settings(max_examples=40)
@given(wirings(), st.sampled_from([OFF, KEY_ON, LOADED, COASTING]))
def test_the_search_ends_and_agrees_with_itself(configuration, state):
    try:
        point = operating_point(configuration, state)
    except NetworkError:
        return  # a network without a solution is told as such
    for coil in coils_of(configuration):
        if coil.role not in point.chattering and not point.chattering:
            assert coil.is_in(point.solution, point.operated) == (coil.role in point.operated)


@settings(max_examples=15)
@given(wirings())
def test_no_rule_stumbles_over_relays(configuration):
    for finding in check(configuration):
        assert told(finding).what
