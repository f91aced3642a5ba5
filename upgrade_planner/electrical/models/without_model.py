"""Parts without a model of their own: what their kind's data say that they pass, and no more."""

from upgrade_planner.configuration.kinds import Passing, When
from upgrade_planner.configuration.model import Component
from upgrade_planner.electrical.models import assumptions as assumed
from upgrade_planner.electrical.models.context import Context
from upgrade_planner.electrical.network.elements import Diode, Resistor
from upgrade_planner.electrical.network.laws import Element
from upgrade_planner.electrical.passing import Way, ways_through

DIODE_V, DIODE_OHM = 0.7, 0.05
"""Forward voltage and slope of a silicon diode where the profile gives none. Source: our
assumption; the usual textbook value."""


def joining(part: Component, context: Context) -> list[Element]:
    """One element for each way; a contact has the resistance that the ratings give, if any."""
    ways = [way for way in ways_through(part) if way.when is When.ALWAYS]
    return [_element(part, way, context, is_only=len(ways) == 1) for way in ways]


def _element(part: Component, way: Way, context: Context, *, is_only: bool) -> Element:
    name = part.role if is_only else f"{part.role}:{way.one}-{way.other}"
    one, other = context.node(part, way.one), context.node(part, way.other)
    if way.passing is Passing.DIODE:
        forward = part.ratings.get("forward_voltage", DIODE_V)
        return Diode(name, one, other, forward, DIODE_OHM)
    return Resistor(name, one, other, part.ratings.get("resistance", assumed.CONTACT_OHM))
