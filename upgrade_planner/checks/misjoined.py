"""Rules on parts that stand in the way of a current, and on live wires that end nowhere."""

from collections.abc import Iterator

from upgrade_planner.checks.examined import Examined
from upgrade_planner.checks.findings import (
    Finding,
    Remedy,
    Severity,
    at_part,
    at_parts,
    at_terminal,
    at_wire,
)
from upgrade_planner.configuration.edits import TakeOut
from upgrade_planner.configuration.kinds import Family
from upgrade_planner.configuration.model import Component, Configuration, TerminalRef, Wire
from upgrade_planner.electrical.branches import Guard
from upgrade_planner.electrical.models.context import is_metal, node_of, ref_of

PLAIN = (Guard.NONE, Guard.FUSE, Guard.LINK)
"""What a current passes on its way to a load."""


def in_series(examined: Examined) -> Iterator[Finding]:
    """A meter or load whose return feeds another part: only its own current passes."""
    ways, configuration = examined.ways, examined.configuration
    for part in configuration.components if not ways.is_shorted else ():
        back = part.return_terminal
        if not part.is_fed or back is None:
            continue
        node = f"{part.role}.{back}"
        if node in ways.grounded or node in ways.hard_live:
            continue
        joined = ways.joined(node, guards=PLAIN, without=ways.grounded)
        if any(is_metal(one) for one in joined):
            continue  # metal that no cable joins to the battery: a rule on grounds says so
        behind = _fed_at(joined, part, configuration)
        if behind:
            yield Finding(
                code="PWR-IN-SERIES",
                severity=Severity.WARNING,
                subjects=at_parts((part.role, *behind)),
                facts={"part": at_part(part.role), "behind": at_parts(behind)},
                remedy=Remedy("join-across"),
                source="our own reasoning from the wiring",
            )


def _fed_at(nodes: set[str], barring: Component, configuration: Configuration) -> list[str]:
    """Parts that one of these nodes should feed."""
    refs = [ref_of(node) for node in sorted(nodes)]
    return list(
        dict.fromkeys(
            ref.role
            for ref in refs
            if ref.role in configuration.component_by_role
            and ref.role != barring.role
            and ref.terminal in configuration.component(ref.role).feed_terminals
        )
    )


def loose_end(examined: Examined) -> Iterator[Finding]:
    """A live wire to whose far joint nothing else is joined."""
    configuration = examined.configuration
    guards = {feed.wire.id: feed.guard for feed in examined.feeds}
    for ref, wires in configuration.wires_at.items():
        part = configuration.component(ref.role)
        if part.family is not Family.JOINT or len(part.terminals) > 1 or len(wires) != 1:
            continue
        wire = wires[0]
        if wire.id in guards and node_of(ref) not in examined.ways.grounded:
            yield _loose(wire, ref, guards[wire.id] is not None, examined)


def _loose(wire: Wire, ref: TerminalRef, is_guarded: bool, examined: Examined) -> Finding:
    missed = _without_current(wire, examined)
    cause = "fallen-off" if missed else "guarded" if is_guarded else "bare"
    remedy = Remedy("cap-or-take-out", edits=(TakeOut(wire.id),))
    if missed:
        remedy = Remedy("join-again", {"parts": at_parts(missed)})
    return Finding(
        code="PWR-LOOSE-END",
        cause=cause,
        severity=Severity.WARNING if missed else Severity.CAUTION,
        subjects=(at_wire(wire.id), at_terminal(ref), *at_parts(missed)),
        facts={"parts": at_parts(missed)},
        remedy=remedy,
        source="common practice",
    )


def _without_current(loose: Wire, examined: Examined) -> list[str]:
    """Loads that nothing feeds, at a wire of the same circuit: the loose one may belong there."""
    configuration = examined.configuration
    return [
        part.role
        for part in configuration.components
        if part.is_fed
        and any(
            wire.circuit == loose.circuit and f"{part.role}.{name}" not in examined.ways.fed
            for name in part.feed_terminals
            for wire in configuration.wires_at.get(TerminalRef(part.role, name), ())
        )
    ]
