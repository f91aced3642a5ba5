"""What worn wires and parts take so that they serve on."""

from collections.abc import Iterator
from decimal import Decimal

from upgrade_planner.configuration.conditions import Condition
from upgrade_planner.kit.allowances import COMPOUND_ML
from upgrade_planner.kit.articles import Material, article
from upgrade_planner.kit.ends import repair_splice
from upgrade_planner.planning.operations import CareForPart, CareForWire


def mended(operation: CareForWire) -> Iterator[Material]:
    """
    A splice with its sleeve for a repair that is made anew.

    New terminals for cut ends are taken where the ends are joined.
    """
    if Condition.REPAIRED in operation.conditions:
        yield from repair_splice(operation.wire)


def cleaned(operation: CareForPart) -> Iterator[Material]:
    """Compound for the terminals of a part that are cleaned to bright metal."""
    part = operation.part
    if {Condition.CORRODED, Condition.MEASURED_OFF, Condition.BURNT} & {*part.condition}:
        amount = COMPOUND_ML * Decimal(len(part.terminals))
        yield Material(article=article("compound"), quantity=amount, wires=(part.role,))
