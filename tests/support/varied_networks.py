"""
Holds networks that were solved from a near one against the full solution.

Run by hand for everything that is shipped, some minutes:
`python tests/support/varied_networks.py`.
"""

import sys
from collections.abc import Iterator, Mapping

from attrs import evolve

from upgrade_planner.configuration.files.shipped import shipped_profiles
from upgrade_planner.electrical.network import (
    Element,
    FloatingSource,
    Network,
    NetworkError,
    Resistor,
    Solution,
    solve,
)
from upgrade_planner.electrical.network.condensed import Watched
from upgrade_planner.electrical.network.varying import Variations
from upgrade_planner.electrical.operating_points import operating_point
from upgrade_planner.electrical.sizing import load_sized
from upgrade_planner.electrical.states import STATES
from upgrade_planner.readings.defects import BAD_JOINT_OHM
from upgrade_planner.readings.tolerances import TOLERANCES, ElementOrigins, elements_strayed

ALIKE_V = 1e-6
"""Voltages of both ways of solving differ by less. [V]"""

EACH_LOOKED_AT = 4
"""Every so many nodes are looked at in a condensed network. Enough for all of it to be condensed
anew from state to state."""

ALIKE_A = 1e-4
"""Currents of both ways of solving differ by less: a contact of 0.1 mΩ takes 0.01 µV. [A]"""


def variations_of(name: str) -> Iterator[tuple[str, Variations, Mapping[str, Element | None]]]:
    """Every state of a configuration with each tolerance moved and each resistor open or bad."""
    (configuration,) = load_sized(name)
    parts = ElementOrigins(configuration)
    for state in STATES:
        try:
            base = operating_point(configuration, state).solution
        except NetworkError:
            continue
        variations = Variations(base)
        for tolerance in TOLERANCES:
            for ratio in tolerance.ratios(1.0):
                changed = elements_strayed(base.network.elements, tolerance, ratio, parts)
                if ratio != 1.0 and changed:
                    yield f"{name} {state.name} {tolerance.name} {ratio:g}", variations, changed
        for element in base.network.elements:
            if isinstance(element, Resistor):
                bad = evolve(element, resistance_ohm=element.resistance_ohm + BAD_JOINT_OHM)
                yield f"{name} {state.name} {element.name} open", variations, {element.name: None}
                yield f"{name} {state.name} {element.name} bad", variations, {element.name: bad}


def differences(name: str) -> Iterator[str]:
    """What differs between the two ways of solving, in words; nothing, if all is well."""
    base = seen = None
    for words, variations, changed in variations_of(name):
        if seen is None or variations.base is not base:
            base = variations.base
            seen = Watched(base, base.network.nodes[::EACH_LOOKED_AT])
        full = in_full(base, changed)
        for way in (variations.solved, variations.searched):
            found = way(changed)
            words_of = _difference(found, full) if found is not None or full is not None else ""
            if words_of:
                yield f"{words}, {way.__name__}: {words_of}"
        words_of = _difference_seen(seen, seen.solved(changed), full)
        if words_of:
            yield f"{words}, condensed: {words_of}"


def in_full(base: Solution, changed: Mapping[str, Element | None]) -> Solution | None:
    """The changed network made and solved from nothing; None if it has no solution."""
    elements = base.network.altered(changed).elements
    try:
        return solve(_joined(base.network.reference, elements))
    except NetworkError:
        return None


def _joined(reference: object, elements: tuple[Element, ...]) -> Network:
    """A network without the sources that have no way to the reference."""
    try:
        return Network(reference, elements)
    except FloatingSource as error:
        return Network(reference, tuple(e for e in elements if e.name not in error.names))


def _difference(near: Solution | None, full: Solution | None) -> str:
    if near is None or full is None:
        return "a solution one way only"
    if set(near.loose) != set(full.loose) or set(near.voltage_v) != set(full.voltage_v):
        return f"other loose nodes: {near.loose}, {full.loose}"
    held = [node for node in near.voltage_v if node not in near.loose]
    off_v = max(abs(near.voltage_v[node] - full.voltage_v[node]) for node in held)
    names = [e.name for e in near.network.elements if not set(e.ends) & set(near.loose)]
    off_a = max(abs(near.current_a[name] - full.current_a[name]) for name in names)
    return f"{off_v:.1g} V, {off_a:.1g} A" if off_v > ALIKE_V or off_a > ALIKE_A else ""


def _difference_seen(seen: Watched, near: Solution | None, full: Solution | None) -> str:
    """What differs at the nodes that are looked at."""
    if near is None or full is None:
        return "" if near is full else "a solution one way only"
    for node in seen.nodes:
        if (node in near.voltage_v, node in near.loose) != (
            node in full.voltage_v,
            node in full.loose,
        ):
            return f"{node} is held, loose or unconnected one way only"
    held = [node for node in seen.nodes if node in near.voltage_v and node not in near.loose]
    off_v = max((abs(near.voltage_v[node] - full.voltage_v[node]) for node in held), default=0.0)
    return f"{off_v:.1g} V" if off_v > ALIKE_V else ""


def main(names: list[str]) -> None:
    """Prints every difference in the named configurations, or in all."""
    for name in names or shipped_profiles("configuration"):
        found = list(differences(name))
        print(name, len(found), *found[:10], sep="\n  ", flush=True)


if __name__ == "__main__":
    main(sys.argv[1:])
