"""Cable, fusible links and resistance wire that a new wire takes, and the length to cut."""

from decimal import Decimal

from upgrade_planner.configuration.model import Conductor, Configuration, Wire
from upgrade_planner.kit.allowances import CUT_STEP_M, LINK_CRIMP_M, RE_TERMINATING_M
from upgrade_planner.kit.articles import Article, Material, article
from upgrade_planner.kit.prices.money import rounded_up

_FLOAT_NOISE_DIGITS = 6


def cut_length_m(wire: Wire, configuration: Configuration) -> Decimal:
    """
    Length to cut, in one piece. [m]

    Run with its slack, and for each made end, those in connectors too, cable to make it once more;
    rounded up to the next centimetre. A fusible link has its free length and the part inside its
    crimps. A resistance wire gets nothing more: its length makes its ohms.
    """
    length = exact_m(configuration.runs[wire.id].length_m)
    ends = 2 + 2 * len(configuration.runs[wire.id].connectors)
    return rounded_up(length + ends * _allowance_per_end_m(wire), CUT_STEP_M)


def first_piece_m(wire: Wire, configuration: Configuration) -> Decimal | None:
    """
    Of the length cut, the part from the wire's start to the connector it passes. [m]

    Both its ends can be made once more; the rest of the cut length lies beyond the connector. None
    if it passes no connector.
    """
    before = configuration.runs[wire.id].before_connector_m
    if before is None:
        return None
    return rounded_up(exact_m(before) + 2 * _allowance_per_end_m(wire), CUT_STEP_M)


def cable(wire: Wire, configuration: Configuration) -> Material:
    """What a new wire takes from the cable shelf: one piece."""
    length = cut_length_m(wire, configuration)
    return Material(
        article=cable_article(wire), quantity=length, wires=(wire.id,), pieces=(length,)
    )


def cable_article(wire: Wire) -> Article:
    """The cable, fusible link or resistance wire that a wire is cut from."""
    size, colour = wire.size.label, wire.colour.code
    insulation = wire.insulation.name
    if wire.conductor is Conductor.LINK:
        return article("fusible link", size=size, colour=colour)
    if wire.conductor is Conductor.RESISTANCE:
        ohms = f"{wire.resistance_ohm:g}"
        return article(
            "resistance wire", size=size, ohms=ohms, insulation=insulation, colour=colour
        )
    return article("cable", size=size, insulation=insulation, colour=colour)


def exact_m(length_m: float) -> Decimal:
    """A length of the model as an exact number, without the noise of floats. [m]"""
    return Decimal(str(round(length_m, _FLOAT_NOISE_DIGITS)))


def _allowance_per_end_m(wire: Wire) -> Decimal:
    if wire.conductor is Conductor.RESISTANCE:
        return Decimal(0)
    return LINK_CRIMP_M if wire.conductor is Conductor.LINK else RE_TERMINATING_M
