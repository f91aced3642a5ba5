"""Edits that put ends of wires where they belong, or take wires out, for remedies that say so."""

from collections.abc import Collection, Iterable, Mapping

from upgrade_planner.configuration.edits import Edit, Rejoin, TakeOut
from upgrade_planner.configuration.kinds import Capability
from upgrade_planner.configuration.model import Configuration, TerminalRef, Wire


def taken_out(wire_ids: Iterable[str]) -> tuple[Edit, ...]:
    """These wires come out."""
    return tuple(TakeOut(wire_id) for wire_id in dict.fromkeys(wire_ids))


def moved(wire: Wire, old: TerminalRef, new: TerminalRef) -> Rejoin:
    """The end of a wire at one terminal goes to another one."""
    return Rejoin(wire.id, at_start=wire.start == old, to=new)


def changed_over(
    one: TerminalRef, other: TerminalRef, configuration: Configuration
) -> tuple[Edit, ...]:
    """All wires of two terminals change places; () where one wire joins both."""
    at = configuration.wires_at
    ways = ((one, other), (other, one))
    found = [moved(wire, old, new) for old, new in ways for wire in at.get(old, ())]
    return tuple(found) if len({edit.wire_id for edit in found}) == len(found) else ()


def to_switched(wire: Wire, old: TerminalRef, configuration: Configuration) -> tuple[Edit, ...]:
    """The end of a wire goes to the ignition's fuse, else to the key's ignition terminal."""
    fuse = configuration.component_by_role.get("ignition_fuse")
    refs = [TerminalRef(fuse.role, "out")] if fuse is not None and fuse.terminal("out") else []
    keys = configuration.parts_that(Capability.KEY)
    refs += [TerminalRef(key.role, "ignition") for key in keys if key.terminal("ignition")]
    return (moved(wire, old, refs[0]),) if refs and refs[0] not in wire.ends else ()


def to_own_terminal(
    wire: Wire, ref: TerminalRef, own: Mapping[str, Collection[str]], configuration: Configuration
) -> tuple[Edit, ...]:
    """A wire of a circuit goes to the terminal of the same part that this circuit belongs to."""
    part = configuration.component(ref.role)
    for terminal, circuits in own.items():
        if wire.circuit in circuits and part.terminal(terminal) is not None:
            return (moved(wire, ref, TerminalRef(ref.role, terminal)),)
    return ()
