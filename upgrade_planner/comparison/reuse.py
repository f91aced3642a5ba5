"""When an old conductor may do the work of a wanted one: size, kind, insulation, length, way."""

from upgrade_planner.comparison.why import Reason, Reasons, because
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
    if old.conductor is not wanted.conductor:
        return (because("other-conductor", old=old.conductor, wanted=wanted.conductor),)
    if wanted.conductor is Conductor.RESISTANCE:
        return _resistance_shortfalls(old, wanted)
    if wanted.conductor is Conductor.LINK and old.size != wanted.size:
        return (because("other-link", old=old.size, wanted=wanted.size),)
    found: list[Reason] = []
    if old.size.area_mm2 < wanted.size.area_mm2 * SAME_AREA:
        found.append(because("thinner", old=old.size, wanted=wanted.size))
    if old.insulation.rated_c < wanted.insulation.rated_c:
        stands, needed = celsius(old.insulation.rated_c), celsius(wanted.insulation.rated_c)
        found.append(because("insulation", name=old.insulation.name, stands=stands, wanted=needed))
    return tuple(found)


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
