"""
Holds networks that were solved from a near one against the full solution.

Run by hand for everything that is shipped, some minutes:
`python tests/support/varied_networks.py`.
"""

import sys
from collections.abc import Iterator, Mapping

from attrs import evolve

from upgrade_planner.configuration.files.shipped import shipped_profiles
from upgrade_planner.electrical.network import Element, NetworkError, Resistor, Solution
from upgrade_planner.electrical.network.varying import Variations
from upgrade_planner.electrical.operating_points import operating_point
from upgrade_planner.electrical.sizing import load_sized
from upgrade_planner.electrical.states import STATES
from upgrade_planner.readings.defects import BAD_JOINT_OHM
from upgrade_planner.readings.tolerances import TOLERANCES, ElementOrigins, moved

ALIKE_V = 1e-6
"""Voltages of both ways of solving differ by less. [V]"""

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
                changed = moved(base.network.elements, tolerance, ratio, parts)
                if ratio != 1.0 and changed:
                    yield f"{name} {state.name} {tolerance.name} {ratio:g}", variations, changed
        for element in base.network.elements:
            if isinstance(element, Resistor):
                bad = evolve(element, resistance_ohm=element.resistance_ohm + BAD_JOINT_OHM)
                yield f"{name} {state.name} {element.name} open", variations, {element.name: None}
                yield f"{name} {state.name} {element.name} bad", variations, {element.name: bad}


def differences(name: str) -> Iterator[str]:
    """What differs between the two ways of solving, in words; nothing, if all is well."""
    for words, variations, changed in variations_of(name):
        near = variations.near(changed)
        if near is not None:
            found = _difference(near, variations.in_full(changed))
            if found:
                yield f"{words}: {found}"


def _difference(near: Solution, full: Solution | None) -> str:
    if full is None:
        return "no full solution"
    if set(near.loose) != set(full.loose) or set(near.voltage_v) != set(full.voltage_v):
        return f"other loose nodes: {near.loose}, {full.loose}"
    held = [node for node in near.voltage_v if node not in near.loose]
    off_v = max(abs(near.voltage_v[node] - full.voltage_v[node]) for node in held)
    names = [e.name for e in near.network.elements if not set(e.ends) & set(near.loose)]
    off_a = max(abs(near.current_a[name] - full.current_a[name]) for name in names)
    return f"{off_v:.1g} V, {off_a:.1g} A" if off_v > ALIKE_V or off_a > ALIKE_A else ""


def main(names: list[str]) -> None:
    """Prints every difference in the named configurations, or in all."""
    for name in names or shipped_profiles("configuration"):
        found = list(differences(name))
        print(name, len(found), *found[:10], sep="\n  ", flush=True)


if __name__ == "__main__":
    main(sys.argv[1:])
