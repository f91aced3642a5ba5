"""
Rules on terminals that control something: each takes wires of its own circuits and no others.

They hold for every kind that has such a terminal; what the wires at it carry is not asked.
"""

from collections.abc import Iterator, Mapping

from upgrade_planner.checks.examined import Examined
from upgrade_planner.checks.findings import (
    Finding,
    Remedy,
    Severity,
    at_part,
    at_terminal,
    at_wires,
)
from upgrade_planner.checks.moves import to_own_terminal
from upgrade_planner.configuration.kinds import Family, TerminalUse
from upgrade_planner.configuration.model import Component, Configuration, TerminalRef, Wire

DYNAMO_OUTPUT = ("charge output", "charge lamp")
"""At a dynamo both meet."""

OWN: Mapping[Family, Mapping[str, tuple[str, ...]]] = {
    Family.ALTERNATOR: {
        TerminalUse.LAMP: ("charge lamp",),
        TerminalUse.FIELD: ("field",),
        "field_relay": ("field relay",),
        TerminalUse.SENSE: ("sensing",),
    },
    Family.DYNAMO: {
        TerminalUse.FIELD: ("field",),
        TerminalUse.ARMATURE: DYNAMO_OUTPUT,
    },
    Family.REGULATOR: {
        TerminalUse.LAMP: ("charge lamp",),
        TerminalUse.FIELD: ("field",),
        "field_relay": ("field relay",),
        TerminalUse.ARMATURE: DYNAMO_OUTPUT,
    },
    Family.CUT_OUT: {
        TerminalUse.LAMP: ("charge lamp",),
        TerminalUse.ARMATURE: DYNAMO_OUTPUT,
    },
    Family.IGNITION_MODULE: {
        TerminalUse.COIL_SWITCH: ("ignition primary",),
        TerminalUse.KEY_FEED: ("ignition feed", "start bypass"),
        "trigger_plus": ("trigger",),
        "trigger_minus": ("trigger",),
    },
    Family.PICK_UP: {"plus": ("trigger",), "minus": ("trigger",)},
}
"""Circuits that belong to each controlling terminal, by family. Source: what terminals are for, as
at the kinds in `configuration/data/kinds.toml`."""

USES = frozenset(TerminalUse)

LOADS = frozenset({"lamps", "heater", "wipers", "gauges", "horn", "accessory", "fuel"})
"""Circuits of loads: none of them belongs to a terminal that controls."""


def wrong_role(examined: Examined) -> Iterator[Finding]:
    """Wires of a part stand on terminals that belong to other circuits; one finding a part."""
    configuration = examined.configuration
    for part in configuration.parts_of(*OWN):
        own = _own(part)
        wrong = [
            (wire, TerminalRef(part.role, name))
            for name in own
            for wire in configuration.wires_at.get(TerminalRef(part.role, name), ())
            if _is_wrong(wire, name, own)
        ]
        if wrong:
            yield _misplaced(part, own, wrong, configuration)


Own = Mapping[str, tuple[str, ...]]
"""Circuits of each terminal of one part."""


def _own(part: Component) -> Own:
    """By the terminals that play each part; a name that is no such part is a terminal's own."""
    named = ((TerminalUse(n) if n in USES else None, n, c) for n, c in OWN[part.family].items())
    return {(use and part.terminal_as(use)) or name: circuits for use, name, circuits in named}


def _is_wrong(wire: Wire, name: str, own: Own) -> bool:
    others = LOADS.union(*own.values())
    return wire.circuit not in own[name] and wire.circuit in others


def _misplaced(
    part: Component,
    own: Own,
    wrong: list[tuple[Wire, TerminalRef]],
    configuration: Configuration,
) -> Finding:
    wires = at_wires(dict.fromkeys(wire.id for wire, _ in wrong))
    terminals = tuple(dict.fromkeys(at_terminal(ref) for _, ref in wrong))
    moves = [to_own_terminal(wire, ref, own, configuration) for wire, ref in wrong]
    edits = tuple(edit for move in moves for edit in move) if all(moves) else ()
    return Finding(
        code="TERM-ROLE",
        severity=Severity.WARNING,
        subjects=(*wires, at_part(part.role), *terminals),
        facts={"wires": wires, "terminals": terminals},
        remedy=Remedy("move-to-own-terminal" if edits else "take-off-terminal", edits=edits),
        source="what the terminal is for",
    )
