"""What a customer pays, in few rows: labour by what is seen being done, small items in one sum."""

from collections import defaultdict
from collections.abc import Iterable, Iterator
from decimal import Decimal
from enum import StrEnum

from attrs import field

from upgrade_planner.attributes import frozen
from upgrade_planner.kit.prices.money import ZERO, exact
from upgrade_planner.planning.operations import Phase
from upgrade_planner.quote.lines import Charge
from upgrade_planner.quote.offer import CustomerLine
from upgrade_planner.quote.priced import Section

PART = "part"
"""Sort of article that a customer knows by name; all others are small items."""


class WorkShare(StrEnum):
    """A stretch of the work as a customer sees it, in the order of the paper."""

    DIAGNOSIS = "diagnosis"
    MAKING_SAFE = "making safe"
    TAKING_OUT = "taking out"
    FITTING = "fitting"
    TESTING = "testing"
    HANDING_OVER = "handing over"
    EXTRA = "extra"
    OLD_VEHICLE = "old vehicle"


_OF_PHASE = {
    Phase.MAKE_SAFE: WorkShare.MAKING_SAFE,
    Phase.RECORD: WorkShare.MAKING_SAFE,
    Phase.TAKE_OUT: WorkShare.TAKING_OUT,
    Phase.CAP_OFF: WorkShare.TAKING_OUT,
    Phase.FIT_PARTS: WorkShare.FITTING,
    Phase.RUN_WIRES: WorkShare.FITTING,
    Phase.GROUNDS: WorkShare.FITTING,
    Phase.TEST_DEAD: WorkShare.TESTING,
    Phase.RECONNECT: WorkShare.TESTING,
    Phase.TEST_LIVE: WorkShare.TESTING,
    Phase.RUN_ENGINE: WorkShare.HANDING_OVER,
    Phase.SIGN: WorkShare.HANDING_OVER,
}
_OF_CHARGE = {
    Charge.SETTING_UP: WorkShare.MAKING_SAFE,
    Charge.DIAGNOSIS: WorkShare.DIAGNOSIS,
    Charge.OLD_VEHICLE: WorkShare.OLD_VEHICLE,
    Charge.EXTRA: WorkShare.EXTRA,
}


@frozen(kw_only=True)
class LabourSum:
    """
    Labour of one stretch, at whatever rates.

    Attributes:
        names: What the shop calls it; only of extra work.
    """

    stretch: WorkShare
    names: tuple[str, ...]
    hours: Decimal = field(validator=exact)
    amount: Decimal = field(validator=exact)


def labour_sums(lines: Iterable[CustomerLine]) -> Iterator[LabourSum]:
    """Labour by what a customer sees being done; the rates by kind of work stay inside."""
    groups: dict[tuple[WorkShare, tuple[str, ...]], list[CustomerLine]] = defaultdict(list)
    for line in lines:
        if line.section is Section.LABOUR:
            stretch = _OF_CHARGE[line.charge] if not line.phase else _OF_PHASE[Phase(line.phase)]
            groups[stretch, line.names if stretch is WorkShare.EXTRA else ()].append(line)
    for (stretch, names), own in sorted(groups.items(), key=lambda group: _place(group[0][0])):
        hours = sum((line.quantity for line in own), ZERO)
        amount = sum((line.amount for line in own), ZERO)
        if hours or amount:
            yield LabourSum(stretch=stretch, names=names, hours=hours, amount=amount)


def _place(stretch: WorkShare) -> int:
    return list(WorkShare).index(stretch)


def is_small(line: CustomerLine) -> bool:
    """Whether it is an article that a customer does not know by name."""
    return line.article is not None and line.article.sort != PART


def small_items(lines: Iterable[CustomerLine]) -> Decimal:
    """What all small items cost together."""
    return sum((line.amount for line in lines if is_small(line)), ZERO)
