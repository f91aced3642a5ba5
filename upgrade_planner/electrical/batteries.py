"""
Which battery posts are ground and live: of one battery, of a pair in series, of several side by
side.

Batteries whose posts follow each other over cables make a string; the string begins at the battery
whose grounded post no other battery stands behind, and ends at the live post that none follows.
"""

from collections.abc import Iterator

from upgrade_planner.configuration.model import OTHER_POST, Component, Configuration, TerminalRef

THROUGH = ("junction", "splice", "switch", "fuse", "breaker")
"""Kinds that a cable between two batteries may pass."""


def batteries_of(configuration: Configuration) -> tuple[Component, ...]:
    """All batteries, by role."""
    return tuple(part for part in configuration.components if part.kind == "battery")


def strings_of(configuration: Configuration) -> tuple[tuple[Component, ...], ...]:
    """The strings of batteries, each from its grounded end to its live end; () without any."""
    batteries = batteries_of(configuration)
    if len(batteries) < 2:
        return (batteries,) if batteries else ()
    after = {part.role: _next(part, configuration) for part in batteries}
    followers = {role for role in after.values() if role is not None}
    firsts = [part for part in batteries if part.role not in followers]
    return tuple(tuple(_string(first, after, configuration)) for first in firsts or batteries[:1])


def grounded_post(configuration: Configuration) -> TerminalRef | None:
    """The battery post that is joined to the metal, to which all voltages are referred."""
    strings = strings_of(configuration)
    return TerminalRef(strings[0][0].role, configuration.vehicle.ground) if strings else None


def live_post(configuration: Configuration) -> TerminalRef | None:
    """The post at the live end of the string that begins at `grounded_post`."""
    strings = strings_of(configuration)
    live = OTHER_POST[configuration.vehicle.ground]
    return TerminalRef(strings[0][-1].role, live) if strings else None


def emf_of(configuration: Configuration) -> float:
    """Voltage of the string without load. [V]"""
    strings = strings_of(configuration)
    return sum(float(part.ratings["emf"]) for part in strings[0]) if strings else 0.0


def _string(
    first: Component, after: dict[str, str | None], configuration: Configuration
) -> Iterator[Component]:
    seen: set[str] = set()
    role: str | None = first.role
    while role is not None and role not in seen:
        seen.add(role)
        yield configuration.component(role)
        role = after[role]


def _next(part: Component, configuration: Configuration) -> str | None:
    """The battery whose grounded post a cable joins to this one's live post."""
    ground = configuration.vehicle.ground
    start = TerminalRef(part.role, OTHER_POST[ground])
    roles = {other.role for other in batteries_of(configuration)} - {part.role}
    for ref in _reached(start, configuration):
        if ref.role in roles and ref.terminal == ground:
            return ref.role
    return None


def _reached(start: TerminalRef, configuration: Configuration) -> list[TerminalRef]:
    found = [start]
    for ref in found:
        others = [wire.other_end(ref) for wire in configuration.wires_at.get(ref, ())]
        part = configuration.component(ref.role)
        if part.kind in THROUGH:
            others += [TerminalRef(ref.role, terminal.name) for terminal in part.terminals]
        found += [other for other in dict.fromkeys(others) if other not in found]
    return found
