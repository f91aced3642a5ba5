"""When an old conductor may do the work of a wanted one: size, kind, insulation, length, way."""

from upgrade_planner.comparison.why import Reasons, because
from upgrade_planner.configuration.conditions import is_spent
from upgrade_planner.configuration.model import Conductor, Wire
from upgrade_planner.configuration.values.measures import celsius, ohm
from upgrade_planner.configuration.ways import Run

SAME_AREA = 0.999
"""Smallest area ratio that counts as equal: only float noise is forgiven."""

SAME_OHMS = 0.01
"""Largest relative difference of two resistance wires that count as equal. Source: our assumption;
a hand-held meter reads an ohm to about one part in a hundred."""

LENGTH_TOLERANCE_M = 0.02
"""A conductor this much short is still long enough: slack takes it up. [m] Source: our assumption;
a seventh of the slack that is reckoned at each end."""


def shortfalls(old: Wire, wanted: Wire) -> Reasons:
    """
    Why the conductor of `old` cannot do the work of `wanted` between the same ends; () if it can.

    More copper or better insulation than wanted is no shortfall, nor is another colour.
    """
    return (*_wear(old), *_misfit(old, wanted), *_aged_insulation(old, wanted))


def is_same_copper(old: Wire, wanted: Wire) -> bool:
    """True if nothing but wear or insulation tells the old conductor from the wanted one."""
    return not _misfit(old, wanted) and old.size.area_mm2 <= wanted.size.area_mm2 / SAME_AREA


def _wear(old: Wire) -> Reasons:
    """What was found at the wire, if it serves no more for that."""
    found = tuple(str(condition) for condition in old.condition)
    return (because("was-found", conditions=found),) if is_spent(old.condition) else ()


def _misfit(old: Wire, wanted: Wire) -> Reasons:
    """Why the conductor itself is another one than wanted."""
    if old.conductor is not wanted.conductor:
        return (because("other-conductor", old=old.conductor, wanted=wanted.conductor),)
    if wanted.conductor is Conductor.RESISTANCE:
        return _resistance_shortfalls(old, wanted)
    if wanted.conductor is Conductor.LINK:
        same = old.size == wanted.size
        return () if same else (because("other-link", old=old.size, wanted=wanted.size),)
    if old.size.area_mm2 < wanted.size.area_mm2 * SAME_AREA:
        return (because("thinner", old=old.size, wanted=wanted.size),)
    return ()


def _aged_insulation(old: Wire, wanted: Wire) -> Reasons:
    """Why the insulation of a copper wire or link is not good enough."""
    if Conductor.RESISTANCE in (old.conductor, wanted.conductor):
        return ()
    if old.conductor is not wanted.conductor or old.insulation.rated_c >= wanted.insulation.rated_c:
        return ()
    stands, needed = celsius(old.insulation.rated_c), celsius(wanted.insulation.rated_c)
    return (because("insulation", name=old.insulation.name, stands=stands, wanted=needed),)


def _resistance_shortfalls(old: Wire, wanted: Wire) -> Reasons:
    have, want = old.resistance_ohm or 0.0, wanted.resistance_ohm or 0.0
    if abs(have - want) > SAME_OHMS * want:
        return (because("other-resistance", old=ohm(have), wanted=ohm(want)),)
    return ()


def reaches(old_run: Run, wanted_run: Run) -> bool:
    """True if the old conductor is long enough for the wanted run."""
    return old_run.length_m >= wanted_run.length_m - LENGTH_TOLERANCE_M


def passes_same_connectors(old_run: Run, wanted_run: Run) -> bool:
    """True if the wanted run needs no other connector cavity than the conductor already has."""
    return set(wanted_run.connectors) == set(old_run.connectors)


def follows(old_run: Run, wanted_run: Run) -> bool:
    """True if the wanted run lies wholly along the way of the old conductor."""
    return set(wanted_run.routes) <= set(old_run.routes)
