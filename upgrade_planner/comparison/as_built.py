"""What is really in the vehicle after a job: conductors as they are, and those that lie dead."""

from attrs import evolve

from upgrade_planner.comparison.results import Comparison
from upgrade_planner.comparison.wire_changes import IntoTarget, Kept, Moved
from upgrade_planner.configuration.composing.digest import digest_of
from upgrade_planner.configuration.model import Configuration, Wire


def as_built(comparison: Comparison) -> Configuration:
    """
    The target with the conductors that really are in it.

    A kept wire may be larger, better insulated or of another colour than the target says: the
    next job on the vehicle starts from what is there, not from what was asked for. What was worn
    has been looked after or renewed.
    """
    after = comparison.after
    conductors = {
        change.after.id: conductor_after(change)
        for change in comparison.wires
        if isinstance(change, IntoTarget)
    }
    wires = tuple(conductors[wire.id] for wire in after.wires)
    parts = tuple(evolve(part, condition=()) for part in after.components)
    if wires == after.wires and parts == after.components:
        return after
    digest = digest_of((after.digest, wires, parts))
    return evolve(after, wires=wires, components=parts, digest=digest)


def conductor_after(change: IntoTarget) -> Wire:
    """The conductor that serves after the job, under the name and between the ends it then has."""
    new = change.after
    if not isinstance(change, Kept | Moved):
        return evolve(new, condition=())
    return evolve(
        change.before,
        id=new.id,
        circuit=new.circuit,
        start=new.start,
        end=new.end,
        loom=new.loom,
        slot=new.slot,
        condition=(),
    )
