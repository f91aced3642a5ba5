"""Rows for the accounts add up to the offer, whatever is rounded where."""

from decimal import Decimal
from itertools import product

from hypothesis import given
from hypothesis import strategies as st

from upgrade_planner.kit.articles import EACH
from upgrade_planner.quote.accounts import ROUNDING, account_rows
from upgrade_planner.quote.lines import Charge
from upgrade_planner.quote.priced import PricedLine, Section, totals_of
from upgrade_planner.quote.rates import PER_LINE, PER_TOTAL, shipped_rates

CENT = Decimal("0.01")
AMOUNTS = st.decimals(-2000, 2000, places=2)
LINES = st.lists(st.tuples(st.sampled_from(list(Section)), AMOUNTS, st.integers(0, 1)), max_size=9)


def line(section, amount, tax_class):
    return PricedLine(
        section=section,
        charge=Charge.ITEM,
        names=("x",),
        quantity=Decimal(1),
        unit=EACH,
        unit_price=amount,
        amount=amount,
        tax_class=tax_class,
    )


def rates(rounding, totals):
    from attrs import evolve

    own = shipped_rates()
    return evolve(
        own,
        tax=evolve(own.tax, rounding=rounding),
        rounding=evolve(own.rounding, totals=Decimal(totals)),
    )


@given(LINES, st.sampled_from(list(product((PER_LINE, PER_TOTAL), ("0.01", "0.05", "1")))))
def test_rows_add_up(found, how):
    own = rates(*how)
    names = list(own.tax.classes)
    lines = [line(section, amount, names[number]) for section, amount, number in found]
    totals = totals_of(lines, own)
    rows = account_rows(lines, totals, CENT)
    assert sum(row.gross for row in rows) == totals.to_pay
    for tax in totals.taxes:
        mine = [row for row in rows if row.tax_class == tax.name]
        assert sum(row.net for row in mine) == tax.base
        assert sum(row.tax for row in mine) == tax.amount
    charged = [row for row in rows if row.kind != ROUNDING]
    assert sum(row.net for row in charged) == totals.net
    assert len({(row.kind, row.tax_class) for row in rows}) == len(rows)
    if how[0] == PER_TOTAL:
        assert all(abs(row.tax - row.net * row.percent / 100) < CENT for row in charged)
