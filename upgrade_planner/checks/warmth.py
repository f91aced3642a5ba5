"""Rules on how warm wires get, alone and among the wires of their sleeve or loom."""

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from functools import lru_cache

from attrs import evolve

from upgrade_planner.attributes import frozen
from upgrade_planner.checks.examined import Examined
from upgrade_planner.checks.findings import Finding, Remedy, Severity, at_wire, at_wires
from upgrade_planner.checks.resizing import calm_points, cranks, remedy_of_size, smallest_size
from upgrade_planner.configuration.model import Configuration, Wire
from upgrade_planner.configuration.values.measures import ampere, celsius, is_above, ratio
from upgrade_planner.configuration.values.sizes import WireSize, sizes_in
from upgrade_planner.configuration.ways import Route
from upgrade_planner.electrical.bundles import Bundle, Neighbour, bundles_of, temperature_among
from upgrade_planner.electrical.conductors import resistance_20c_per_m
from upgrade_planner.electrical.heat_balance import current_for_temperature
from upgrade_planner.electrical.lasting_current import (
    MARGIN_RATIO,
    is_marine,
    lasting_c,
    lasting_current,
)
from upgrade_planner.electrical.metals import PLAIN, heating_current
from upgrade_planner.electrical.operating_points import HOTTEST_C, NEGLIGIBLE_A, OperatingPoint
from upgrade_planner.electrical.short_circuit import CRANKING_CIRCUITS

FAR_ABOVE_K = 40.0
"""A conductor this far above its rating is a danger. [K] Source: our assumption."""

SURELY_K = 1.0
"""Far more than temperatures are unsure by, once they have settled. [K] Our choice."""

MOST_HEATERS = 3
"""So many wires are named as those that make the heat. Our choice."""

KEPT = 8
"""Examined configurations whose wires are kept: several rules ask. Our choice."""


@frozen(kw_only=True)
class Warm:
    """
    A wire where and when it is warmest, of all states that last.

    Attributes:
        wire: The wire.
        current_a: Its current then. [A]
        alone_c: As warm it would be alone in the air. [°C]
        among_c: As warm it is. [°C]
        bundle: What lies around it there.
        route: The run with that bundle; None if it lies alone.
    """

    wire: Wire
    current_a: float
    alone_c: float
    among_c: float
    bundle: Bundle
    route: Route | None = None


def hot_wire(examined: Examined) -> Iterator[Finding]:
    """The copper gets hotter than its insulation stands for good: by its own current."""
    for warm in _warm_wires(examined):
        rated_c = warm.wire.insulation.rated_c
        if not _is_hot(warm.alone_c, warm.wire):
            continue
        size = _cool_size(warm, examined.configuration)
        yield Finding(
            code="DROP-HOT",
            cause="alone",
            severity=Severity.DANGER if warm.alone_c > rated_c + FAR_ABOVE_K else Severity.WARNING,
            subjects=(at_wire(warm.wire.id),),
            value=celsius(warm.alone_c),
            limit=celsius(rated_c),
            facts={
                "current": ampere(warm.current_a),
                "air": celsius(examined.configuration.runs[warm.wire.id].ambient_c),
                "insulation": warm.wire.insulation.name,
            },
            remedy=remedy_of_size("fit-at-least", warm.wire, size)
            if size
            else Remedy("share-current"),
            source="heat balance of a single wire in still air; rating of the insulation class: "
            f"{warm.wire.insulation.source}",
        )


def hot_among_others(examined: Examined) -> Iterator[Finding]:
    """Wires of a sleeve or loom get too hot together, none of them alone: one finding a run."""
    hot: dict[Route, list[Warm]] = defaultdict(list)
    for warm in _warm_wires(examined):
        is_hot_alone = _is_hot(warm.alone_c, warm.wire)
        if warm.route and not is_hot_alone and _is_hot(warm.among_c, warm.wire):
            hot[warm.route].append(warm)
    for found in hot.values():
        yield _too_warm_together(found, examined)


def _too_warm_together(found: Sequence[Warm], examined: Examined) -> Finding:
    """The wire that makes most of the heat first: with more copper it makes less."""
    worst = max(found, key=lambda warm: warm.among_c - warm.wire.insulation.rated_c)
    heats = _heats(worst, examined)
    heaters = sorted(heats, key=lambda name: (-heats[name], name))
    names = [heaters[0], *(w.wire.id for w in found if w.wire.id != heaters[0])]
    rated_c = worst.wire.insulation.rated_c
    return Finding(
        code="DROP-HOT",
        cause="among",
        severity=Severity.DANGER if worst.among_c > rated_c + FAR_ABOVE_K else Severity.WARNING,
        subjects=at_wires(names),
        value=celsius(worst.among_c),
        limit=celsius(rated_c),
        facts={
            "wire": at_wire(worst.wire.id),
            "alone": celsius(worst.alone_c),
            "insulation": worst.wire.insulation.name,
            "heaters": at_wires(heaters[:MOST_HEATERS]),
        },
        remedy=_with_less_heat(examined.configuration.wire_by_id[heaters[0]], found, examined),
        source="heat balance of the wires of one sleeve or loom, in still air; rating of the "
        f"insulation class: {worst.wire.insulation.source}",
    )


def _with_less_heat(heater: Wire, found: Sequence[Warm], examined: Examined) -> Remedy:
    """More copper for the wire that makes most heat; where that is not enough, it goes apart."""
    configuration = examined.configuration
    if heater.conductor in PLAIN:
        larger = (
            size
            for size in sizes_in(configuration.vehicle.size_system)
            if size.area_mm2 > heater.size.area_mm2
            and all(_stays_cool_with(heater, size, warm) for warm in found)
        )
        if (size := next(larger, None)) is not None:
            return remedy_of_size("fit-at-least", heater, size)
    return Remedy("lead-out-of-loom", {"wire": at_wire(heater.id)})


def _stays_cool_with(heater: Wire, size: WireSize, warm: Warm) -> bool:
    wire, rated_c = warm.wire, warm.wire.insulation.rated_c
    if wire.id == heater.id:
        return temperature_among(size, warm.current_a, warm.bundle) <= rated_c
    changed = tuple(
        evolve(one, size=size) if one.name == heater.id else one for one in warm.bundle.neighbours
    )
    bundle = Bundle(warm.bundle.ambient_c, changed)
    return temperature_among(wire.size, warm.current_a, bundle) <= rated_c


def _heats(warm: Warm, examined: Examined) -> Mapping[str, float]:
    """Heat per metre of each wire of a bundle, cold. [W/m]"""
    wire = warm.wire
    members = (Neighbour(wire.id, wire.size, warm.current_a), *warm.bundle.neighbours)
    return {one.name: one.current_a**2 * resistance_20c_per_m(one.size) for one in members}


def current_above_table(examined: Examined) -> Iterator[Finding]:
    """
    A wire carries more than its size is allowed; cranking cables and links are exempt.

    Where the rule is the heat of the copper, one that is too hot is told so and no more.
    """
    configuration = examined.configuration
    for warm in _warm_wires(examined):
        wire = warm.wire
        if not warm.current_a or wire.circuit in CRANKING_CIRCUITS or wire.conductor not in PLAIN:
            continue
        if not is_marine(configuration) and (_is_hot(warm.among_c, wire) or _is_cool(warm)):
            continue
        allowed_a, source = lasting_current(wire, configuration, beside=warm.bundle)
        if is_above(ampere(warm.current_a), ampere(allowed_a)):
            yield Finding(
                code="DROP-CURRENT",
                severity=Severity.WARNING,
                subjects=(at_wire(wire.id),),
                value=ampere(warm.current_a),
                limit=ampere(allowed_a),
                facts={"size": wire.size, "margin": ratio(MARGIN_RATIO)},
                remedy=_allowed_size(warm, configuration),
                source=source,
            )


def _allowed_size(warm: Warm, configuration: Configuration) -> Remedy:
    """The smallest size that would do beside the same neighbours, if there is one."""

    def does(size: WireSize) -> bool:
        may_a = lasting_current(warm.wire, configuration, size, beside=warm.bundle)[0]
        return may_a >= warm.current_a

    size = smallest_size(configuration, does)
    if size is None:
        return Remedy("change-insulation-or-share-current")
    return remedy_of_size("fit-at-least-with-this-insulation", warm.wire, size)


def _cool_size(warm: Warm, configuration: Configuration) -> WireSize | None:
    """The smallest size that stays below the rating where it lies."""

    def does(size: WireSize) -> bool:
        return temperature_among(size, warm.current_a, warm.bundle) <= warm.wire.insulation.rated_c

    return smallest_size(configuration, does)


def _is_cool(warm: Warm) -> bool:
    """Whether a wire is so cool that what it may carry need not be sought."""
    return warm.among_c < lasting_c(warm.wire, warm.bundle) - SURELY_K


def _is_hot(found_c: float, wire: Wire) -> bool:
    return is_above(celsius(found_c), celsius(wire.insulation.rated_c))


@lru_cache(maxsize=KEPT)
def _warm_wires(examined: Examined) -> tuple[Warm, ...]:
    """
    Every wire that may get too warm, where it is warmest.

    A neighbour that is too hot by its own current is counted as if that were mended, at its rating:
    what it heats follows from it and is no fault of its own.
    """
    configuration = examined.configuration
    lasting = [p for p in calm_points(examined) if not cranks(p)]
    wires = _maybe_warm(lasting, configuration)
    found: dict[str, Warm] = {wire.id: _resting(wire, examined) for wire in wires}
    for point in lasting if wires else ():
        current_a = _currents_a(point, configuration)
        calm_a = {
            wire.id: _at_rating(wire, current_a[wire.id], configuration)
            if _is_hot(point.temperature_c[wire.id], wire)
            else current_a[wire.id]
            for wire in configuration.wires
        }
        for wire in wires:
            alone_c = point.temperature_c[wire.id]
            for warm in _where(wire, current_a[wire.id], alone_c, calm_a, configuration):
                before = found[wire.id]
                if (warm.among_c, warm.current_a) > (before.among_c, before.current_a):
                    found[wire.id] = warm
    return tuple(found.values())


def _currents_a(point: OperatingPoint, configuration: Configuration) -> Mapping[str, float]:
    return {wire.id: abs(point.wire_current_a(wire.id)) for wire in configuration.wires}


def _maybe_warm(points: Sequence[OperatingPoint], configuration: Configuration) -> tuple[Wire, ...]:
    """
    The wires that are not surely cool: not if all wires carried the most they ever do, at once.

    On boats, whose rule is a table of currents, all wires.
    """
    if is_marine(configuration):
        return configuration.wires
    currents = [_currents_a(point, configuration) for point in points]
    most_a = {w.id: max((a[w.id] for a in currents), default=0.0) for w in configuration.wires}

    def is_cool(wire: Wire) -> bool:
        air_c = configuration.runs[wire.id].ambient_c
        alone_c = max([air_c, *(point.temperature_c[wire.id] for point in points)])
        return all(map(_is_cool, _where(wire, most_a[wire.id], alone_c, most_a, configuration)))

    return tuple(wire for wire in configuration.wires if not is_cool(wire))


def _resting(wire: Wire, examined: Examined) -> Warm:
    air_c = examined.configuration.runs[wire.id].ambient_c
    return Warm(wire=wire, current_a=0.0, alone_c=air_c, among_c=air_c, bundle=Bundle(air_c, ()))


def _at_rating(wire: Wire, current_a: float, configuration: Configuration) -> float:
    air_c = configuration.runs[wire.id].ambient_c
    return min(current_a, current_for_temperature(wire.size, wire.insulation.rated_c, air_c))


def _where(
    wire: Wire,
    current_a: float,
    alone_c: float,
    others_a: Mapping[str, float],
    configuration: Configuration,
) -> Iterator[Warm]:
    """A wire alone, and on each covered run; on boats, whose rule knows no bundles, alone."""
    alone = Bundle(configuration.runs[wire.id].ambient_c, ())
    yield Warm(wire=wire, current_a=current_a, alone_c=alone_c, among_c=alone_c, bundle=alone)
    if current_a >= NEGLIGIBLE_A and not is_marine(configuration):
        for route, bundle in bundles_of(wire, configuration, others_a):
            heating_a = heating_current(wire, current_a)
            among_c = min(temperature_among(wire.size, heating_a, bundle), HOTTEST_C)
            yield Warm(
                wire=wire,
                current_a=current_a,
                alone_c=alone_c,
                among_c=max(alone_c, among_c),
                bundle=bundle,
                route=route,
            )
