"""What each joining operation leaves at its terminal: rings and clamps in their order, adapters."""

from collections.abc import Iterable, Mapping, Sequence

from upgrade_planner.attributes import frozen
from upgrade_planner.comparison.results import Comparison
from upgrade_planner.comparison.wire_changes import Kept, Moved, stays_at
from upgrade_planner.configuration.end_fittings import (
    EndFitting,
    adapters_for,
    clamp_bearer,
    fittings_at,
    on_block,
)
from upgrade_planner.configuration.model import Configuration, Connection, TerminalRef
from upgrade_planner.planning.operations import AttachEnd, Operation, ends_joined


@frozen(kw_only=True)
class Meeting:
    """
    A terminal as one operation leaves it.

    Attributes:
        fittings: All that is on it, from the bottom.
        adapters: Double-blade adapters or bullet sleeves that the operation adds.
    """

    end: TerminalRef
    connection: Connection
    fittings: tuple[EndFitting, ...]
    adapters: int

    @property
    def made(self) -> tuple[EndFitting, ...]:
        """The fittings that are made for it."""
        return tuple(fitting for fitting in self.fittings if fitting.is_new)

    @property
    def on_block(self) -> tuple[EndFitting, ...]:
        """Rings for which the stud has no room; a distribution block beside it takes them."""
        return on_block(self.connection, self.fittings)


def meetings(comparison: Comparison, operations: Sequence[Operation]) -> Mapping[str, Meeting]:
    """What every joining operation leaves, by its id."""
    found, later = {}, list(operations)
    for operation in operations:
        later.pop(0)
        ends = ends_joined(operation)
        if ends:
            coming = {end.wire.id for other in later for end in _at(ends[0].end, other)}
            found[operation.id] = _meeting(ends, coming, comparison)
    return found


def _at(terminal: TerminalRef, operation: Operation) -> Iterable[AttachEnd]:
    return (end for end in ends_joined(operation) if end.end == terminal)


def _meeting(ends: Sequence[AttachEnd], coming: set[str], comparison: Comparison) -> Meeting:
    end, after = ends[0].end, comparison.after
    connection = connection_at(end, after)
    fittings = fittings_at(
        connection,
        [wire for wire in after.wires_at.get(end, ()) if wire.id not in coming],
        as_they_were=stayed_at(end, comparison),
        new=[one.wire.id for one in ends if one.remade],
        bearer=bearer_after(end, comparison),
    )
    older = [fitting for fitting in fittings if not fitting.is_new]
    had = adapters_for(connection, older) if older else 0
    return Meeting(
        end=end,
        connection=connection,
        fittings=fittings,
        adapters=adapters_for(connection, fittings) - had,
    )


def connection_at(end: TerminalRef, configuration: Configuration) -> Connection:
    """The hardware of a terminal that the configuration has."""
    terminal = configuration.component(end.role).terminal(end.terminal)
    assert terminal is not None
    return terminal.connection


def stayed_at(end: TerminalRef, comparison: Comparison) -> tuple[str, ...]:
    """Ids, in the target, of the wires that were on that terminal before."""
    return tuple(
        change.after.id
        for change in comparison.wires
        if isinstance(change, Kept | Moved) and stays_at(change, end)
    )


def bearer_before(end: TerminalRef, comparison: Comparison) -> str:
    """Id, in the vehicle as it is, of the wire that has the clamp of a post."""
    return clamp_bearer(comparison.before.wires_at.get(end, ()))


def bearer_after(end: TerminalRef, comparison: Comparison) -> str:
    """Id, in the target, of the wire that will have it: the same as long as that wire stays."""
    old = bearer_before(end, comparison)
    stays = [
        change.after.id
        for change in comparison.wires
        if isinstance(change, Kept | Moved) and change.before.id == old and stays_at(change, end)
    ]
    return clamp_bearer(comparison.after.wires_at.get(end, ()), next(iter(stays), ""))
