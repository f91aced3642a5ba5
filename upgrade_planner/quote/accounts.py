"""What an offer comes to for the accounts: net and tax of each kind of charge and tax class."""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from decimal import Decimal

from attrs import field

from upgrade_planner.attributes import frozen
from upgrade_planner.kit.prices.money import ZERO, exact
from upgrade_planner.quote.priced import PricedLine, Section, TaxSum, Totals

ROUNDING = "rounding"
"""Kind of the row that brings the sum to the step of the shop."""


@frozen(kw_only=True)
class AccountRow:
    """
    One row.

    Attributes:
        kind: A section of the offer, or ROUNDING.
        tax_class: Name of a tax class; "" of ROUNDING.
    """

    kind: str
    tax_class: str
    percent: Decimal = field(validator=exact)
    net: Decimal = field(validator=exact)
    tax: Decimal = field(validator=exact)

    @property
    def gross(self) -> Decimal:
        """Net and tax."""
        return self.net + self.tax


def account_rows(
    lines: Iterable[PricedLine], totals: Totals, step: Decimal
) -> tuple[AccountRow, ...]:
    """
    Rows that add up to the totals exactly: net, tax of each class, and what is to pay.

    Args:
        lines: Of the offer.
        totals: Their sums.
        step: Smallest amount of the currency.
    """
    nets: dict[tuple[str, Section], Decimal] = defaultdict(lambda: ZERO)
    for line in lines:
        nets[line.tax_class, line.section] += line.amount
    return tuple(_rows(nets, totals, step))


def _rows(
    nets: dict[tuple[str, Section], Decimal], totals: Totals, step: Decimal
) -> Iterator[AccountRow]:
    for tax in totals.taxes:
        own = [section for section in Section if (tax.name, section) in nets]
        shares = _shares(tax, [nets[tax.name, section] for section in own], step)
        for section, share in zip(own, shares, strict=True):
            net = nets[tax.name, section]
            yield AccountRow(
                kind=section, tax_class=tax.name, percent=tax.percent, net=net, tax=share
            )
    if totals.rounding:
        yield AccountRow(kind=ROUNDING, tax_class="", percent=ZERO, net=totals.rounding, tax=ZERO)


def _shares(tax: TaxSum, nets: Sequence[Decimal], step: Decimal) -> list[Decimal]:
    """
    The tax of a class, divided among its kinds by what each would have alone.

    Each share is rounded down, and what is left goes, a step each, to the largest remainders; tax
    by the line may leave more steps than there are kinds, so it goes round.
    """
    exact_shares = [net * tax.percent / 100 for net in nets]
    shares = [(one / step).to_integral_value("ROUND_FLOOR") * step for one in exact_shares]
    by_rest = sorted(range(len(nets)), key=lambda i: (shares[i] - exact_shares[i], i))
    left = int((tax.amount - sum(shares, ZERO)) / step)
    way = 1 if left > 0 else -1
    for turn in range(abs(left)):
        shares[by_rest[turn % len(nets)]] += way * step
    return shares
