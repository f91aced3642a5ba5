"""Which colours may stand in for a wire of one vehicle, and which would tell it for another."""

from upgrade_planner.comparison.results import Comparison
from upgrade_planner.configuration.model import Configuration
from upgrade_planner.electrical.batteries import Cable, cables_of
from upgrade_planner.kit.substitutes import ColourRule

GROUND = "ground"
"""The circuit."""

OWN_MAIN = ("battery cable", "starter cable", "main feed", "charge output", GROUND)
"""Circuits that keep their own main colour: whoever takes one for another works on the live side of
the battery. Source: our assumption."""


def colour_rule(wires: tuple[str, ...], comparison: Comparison) -> ColourRule:
    """The rule for an article of which these wires of the target are made."""
    sides = (comparison.before, comparison.after)
    after = comparison.after.wire_by_id
    return ColourRule(
        grounds=frozenset().union(*map(ground_colours, sides)),
        keeps_main=any(wire in after and after[wire].circuit in OWN_MAIN for wire in wires),
    )


def ground_colours(configuration: Configuration) -> frozenset[str]:
    """Main colours of the wires that only lead to the metal."""
    at_posts = {
        name for (name, _), cable in cables_of(configuration).items() if cable is Cable.GROUNDED
    }
    return frozenset(
        wire.colour.main
        for wire in configuration.wires
        if wire.circuit == GROUND or wire.id in at_posts
    )
