"""What is really in the vehicle after a job: conductors as they are, and those that lie dead."""

from attrs import evolve

from upgrade_planner.comparison.results import Comparison, Disposition, WireChange
from upgrade_planner.configuration.composing.digest import digest_of
from upgrade_planner.configuration.model import Configuration, Wire


def as_built(comparison: Comparison) -> Configuration:
    """
    The target with the conductors that really are in it.

    A kept wire may be larger, better insulated or of another colour than the target says: the
    next job on the vehicle starts from what is there, not from what was asked for.
    """
    after = comparison.after
    conductors = {
        change.after.id: conductor_after(change)
        for change in comparison.wires
        if change.after is not None
    }
    wires = tuple(conductors[wire.id] for wire in after.wires)
    if wires == after.wires:
        return after
    return evolve(after, wires=wires, digest=digest_of((after.digest, wires)))


def conductor_after(change: WireChange) -> Wire:
    """The conductor that serves after the job, under the name and between the ends it then has."""
    old, new = change.before, change.after
    assert new is not None
    if old is None or change.disposition not in (Disposition.KEEP, Disposition.MOVE):
        return new
    return evolve(
        old,
        id=new.id,
        circuit=new.circuit,
        start=new.start,
        end=new.end,
        loom=new.loom,
        slot=new.slot,
    )


def capped_wires(comparison: Comparison) -> tuple[Wire, ...]:
    """Conductors that the job leaves in the vehicle, dead and capped at both ends."""
    return tuple(
        change.before
        for change in comparison.wires
        if change.before is not None and stays_capped(change)
    )


def stays_capped(change: WireChange) -> bool:
    """True if the old conductor of a change stays in its loom, capped."""
    return change.disposition is Disposition.CAP_OFF or change.old_stays
