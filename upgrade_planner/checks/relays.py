"""Rules on relays: coils that are never fed, too weakly, from their own contact; contacts."""

from collections.abc import Iterator

from upgrade_planner.checks.examined import Examined
from upgrade_planner.checks.findings import (
    Finding,
    Remedy,
    Severity,
    Subject,
    at_part,
    at_parts,
    at_wires,
)
from upgrade_planner.configuration.kinds import Family
from upgrade_planner.configuration.model import Component, Configuration, TerminalRef
from upgrade_planner.configuration.values.measures import ampere, volt
from upgrade_planner.electrical.branches import Guard, is_out_of_work
from upgrade_planner.electrical.models.context import is_metal, ref_of
from upgrade_planner.electrical.network.unsolvable import NetworkError
from upgrade_planner.electrical.operated import Coil, coils_of
from upgrade_planner.electrical.operating_points import OperatingPoint, operating_point
from upgrade_planner.electrical.states import OFF, Engine, State

WEAK_RATIO = 0.3
"""Coil voltage, as part of what pulls it in, from which it is meant to pull in. [1] Source: our
assumption; less is leakage through a lamp or a gauge."""

PLAIN = (Guard.NONE, Guard.FUSE, Guard.LINK)
"""What a coil's current passes on its way; a load is none of it."""

CONTACTS = {
    Family.RELAY: ("common-normally_open", "rest"),
    Family.STARTER_RELAY: ("battery-starter",),
}


def _wires_at(role: str, names: tuple[str, ...], configuration: Configuration) -> tuple[str, ...]:
    refs = [TerminalRef(role, name) for name in names]
    return tuple(
        dict.fromkeys(wire.id for ref in refs for wire in configuration.wires_at.get(ref, ()))
    )


def _at_coil(coil: Coil, configuration: Configuration) -> tuple[Subject, ...]:
    """The relay, and the wires at both ends of its coil."""
    names = tuple(ref_of(node).terminal for node in (coil.one, coil.other))
    return at_part(coil.role), *at_wires(_wires_at(coil.role, names, configuration))


def chatters(examined: Examined) -> Iterator[Finding]:
    """A relay that undoes what pulls it in, and so on for ever."""
    found: dict[tuple[str, ...], State] = {}
    for point in examined.points.values():
        if point.chattering:
            found.setdefault(point.chattering, point.state)
    for roles, state in found.items():
        names = ("coil_in", "coil_out", "signal")
        wires = [w for role in roles for w in _wires_at(role, names, examined.configuration)]
        yield Finding(
            code="RLY-CHATTER",
            severity=Severity.WARNING,
            subjects=(*at_parts(roles), *at_wires(dict.fromkeys(wires))),
            facts={"state": state},
            remedy=Remedy("feed-coil-past-own-contact"),
            source="network computation",
        )


def coil_never_fed(examined: Examined) -> Iterator[Finding]:
    """No switch position brings current through the coil."""
    ways, configuration = examined.ways, examined.configuration
    if ways.is_shorted:
        return
    for coil in coils_of(configuration):
        part = configuration.component(coil.role)
        ends = (coil.one, coil.other)
        own = _own_outputs(part)
        is_in = any(coil.role in point.operated for point in examined.points.values())
        if is_in or is_out_of_work(part, configuration) or _can_be_fed(ends, examined, own):
            continue
        if _is_on_lost_metal(coil, examined):
            continue
        yield Finding(
            code="RLY-NO-COIL",
            severity=Severity.WARNING,
            subjects=_at_coil(coil, configuration),
            remedy=Remedy("join-coil"),
            source="network computation",
        )


def _own_outputs(part: Component) -> frozenset[str]:
    names = ("normally_open", "starter", "bypass")
    return frozenset(f"{part.role}.{name}" for name in names)


def _is_on_lost_metal(coil: Coil, examined: Examined) -> bool:
    """True if its return is a lump of metal that no cable joins to the battery: said elsewhere."""
    ways = examined.ways
    for one, other in ((coil.one, coil.other), (coil.other, coil.one)):
        joined = ways.joined(one, without=ways.hard_live | frozenset({other}))
        if any(is_metal(node) for node in joined) and ways.reference not in joined:
            return True
    return False


def _can_be_fed(
    ends: tuple[str, str],
    examined: Examined,
    own: frozenset[str],
    over: tuple[Guard, ...] = tuple(Guard),
) -> bool:
    """True if one end can be live and the other grounded, not over the relay's own contact."""
    ways = examined.ways
    for one, other in (ends, ends[::-1]):
        barred = own | frozenset({other})
        fed = ways.joined(ways.live, guards=over, without=ways.grounded | barred)
        barred = ways.hard_live | frozenset({one})
        back = ways.joined(ways.reference, guards=over, without=barred)
        if one in fed and other in back:
            return True
    return False


def coil_in_wrong_place(examined: Examined) -> Iterator[Finding]:
    """The coil hangs on what is always live, or its current must pass a load."""
    ways, configuration = examined.ways, examined.configuration
    off = examined.points.get(OFF.name)
    for coil in coils_of(configuration) if off is not None and not ways.is_shorted else ():
        ends = (coil.one, coil.other)
        own = _own_outputs(configuration.component(coil.role))
        if off is not None and coil.role in off.operated:
            cause = "always-in"
        elif _can_be_fed(ends, examined, own) and not _can_be_fed(ends, examined, own, PLAIN):
            cause = "in-series"
        else:
            continue
        yield Finding(
            code="RLY-ROLE",
            cause=cause,
            severity=Severity.WARNING,
            subjects=(
                *_at_coil(coil, configuration),
                *at_wires(_wires_at(coil.role, ("common",), configuration)),
            ),
            remedy=Remedy("change-relay-terminals-over"),
            source="what the terminals are for: DIN 72552; network computation",
        )


def coil_too_weak(examined: Examined) -> Iterator[Finding]:
    """A coil that gets some voltage, but not enough to pull in."""
    configuration = examined.configuration
    for coil in coils_of(configuration):
        points = [p for p in examined.points.values() if coil.role not in p.operated]
        volts, point = max(
            ((coil.across_v(p.solution), p) for p in points),
            key=lambda pair: pair[0],
            default=(0.0, None),
        )
        if point is None or coil.role in point.chattering:
            continue
        if volts >= WEAK_RATIO * coil.pull_in_v:
            yield Finding(
                code="RLY-WEAK",
                severity=Severity.WARNING,
                subjects=_at_coil(coil, configuration),
                value=volt(volts),
                limit=volt(coil.pull_in_v),
                facts={"state": point.state},
                remedy=Remedy("find-what-lies-in-series"),
                source="from memory: a relay pulls in at 60 % of its rated voltage",
            )


def latches(examined: Examined) -> Iterator[Finding]:
    """A relay that holds itself in through its own contact after the key is off."""
    configuration = examined.configuration
    pulled = {
        coil.role
        for coil in coils_of(configuration)
        for point in examined.points.values()
        if coil.role in point.operated and point.state.engine is not Engine.CRANKING
    }
    off = examined.points.get(OFF.name)
    if off is None or not pulled:
        return
    try:
        after = operating_point(configuration, OFF, frozenset(pulled) | off.operated)
    except NetworkError:
        return
    for role in sorted(pulled & after.operated - off.operated):
        names = ("coil_in", "coil_out", "signal", "normally_open", "starter")
        yield Finding(
            code="RLY-LATCH",
            severity=Severity.WARNING,
            subjects=(at_part(role), *at_wires(_wires_at(role, names, configuration))),
            remedy=Remedy("feed-coil-from-switch-alone"),
            source="network computation",
        )


def contact_overloaded(examined: Examined) -> Iterator[Finding]:
    """More current through a contact than it is rated for."""
    for part in examined.configuration.parts_of(*CONTACTS):
        limit = part.ratings.get("rated_current")
        found = [(_contact_a(part, point), point.state) for point in examined.points.values()]
        for amps, state in sorted(found, key=lambda one: (one[0], one[1].title))[-1:]:
            if limit is not None and amps > limit:
                yield Finding(
                    code="RLY-OVERLOAD",
                    severity=Severity.WARNING,
                    subjects=(at_part(part.role),),
                    value=ampere(amps),
                    limit=ampere(limit),
                    facts={"state": state},
                    remedy=Remedy("fit-relay-of-higher-rating"),
                    source="the profile's own figure",
                )


def _contact_a(part: Component, point: OperatingPoint) -> float:
    names = CONTACTS[part.family]
    return max(abs(point.element_current_a(f"{part.role}:{name}")) for name in names)
