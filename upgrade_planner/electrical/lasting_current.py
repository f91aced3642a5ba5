"""
What a wire may carry for good, by the rules that hold for its vehicle.

Boats: the table of the public boat regulation, in full. Road vehicles and farm machines: the copper
stays below the rating of its insulation by a margin, by the heat balance of the wire; no boat rule
is held against them. Sizes chosen by the program keep to the table everywhere: it asks for more.
"""

from math import inf

from upgrade_planner.configuration.equipment import MARINE
from upgrade_planner.configuration.model import Configuration, Wire
from upgrade_planner.configuration.values.sizes import WireSize
from upgrade_planner.electrical.allowable_current import allowable_current
from upgrade_planner.electrical.bundles import Bundle, current_among
from upgrade_planner.electrical.metals import heating_current

MARGIN_RATIO = 0.05
"""How much of the rise from the air to the rating of its insulation the copper does not use. [1]
Source: our assumption; 2.5 % of the current, beside the hot air that the profile gives the wire."""

ALONE = "a single wire in still air"
AMONG = "the wires of its sleeve or loom, in still air"

HOT_OUTPUT_RATIO = 41 / 45
"""What a machine delivers once it is hot, by its rated output. [1] Source: US Army TM
10-3930-671-24, p. F-285: at least 41 A hot of a machine for 45 A."""


def is_marine(configuration: Configuration) -> bool:
    """True if the rules for boats hold."""
    return configuration.vehicle.equipment.rules == MARINE


def lasting_current(
    wire: Wire,
    configuration: Configuration,
    size: WireSize | None = None,
    *,
    beside: Bundle | None = None,
) -> tuple[float, str]:
    """
    What a wire, or another size in its place, may carry for good [A]; and the source, which may
    name the `margin`.

    Another size is one of copper. Infinite beyond the end of the boat table. `beside`: what lies
    around it in a sleeve or loom; without it the wire is reckoned alone, and the boat table knows
    no other way.
    """
    air_c, rated_c = configuration.runs[wire.id].ambient_c, wire.insulation.rated_c
    alike = 1.0 if size else heating_current(wire, 1.0)
    if not is_marine(configuration):
        around = beside or Bundle(air_c, ())
        found_a = current_among(size or wire.size, lasting_c(wire, around), around) / alike
        return found_a, (
            f"{configuration.vehicle.equipment.rules} rules: heat balance of "
            f"{AMONG if around.neighbours else ALONE}, the copper below the rating of its "
            "insulation by {margin:.0f %} of the rise"
        )
    try:
        found = allowable_current(size or wire.size, rated_c, air_c)
    except ValueError:
        return inf, "beyond the table"
    return found.current_a / alike, found.source


def lasting_c(wire: Wire, around: Bundle) -> float:
    """How warm the copper of a wire may be for good, where it is no boat's. [°C]"""
    rated_c = wire.insulation.rated_c
    return rated_c - MARGIN_RATIO * max(0.0, rated_c - around.ambient_c)


def lasting_output_a(rated_a: float, configuration: Configuration) -> float:
    """What a machine delivers for long: on a boat its rated output, else what is left hot. [A]"""
    return rated_a if is_marine(configuration) else rated_a * HOT_OUTPUT_RATIO
