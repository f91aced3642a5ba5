"""How a cell of a workbook shows money."""

from upgrade_planner.configuration.tables.workbooks import MoneyCells
from upgrade_planner.kit.prices.money import Currency


def money_cells(currency: Currency | None, code: str = "") -> MoneyCells:
    """
    Money as the shop prints it, as far as a spreadsheet follows: it has decimal marks of its own.

    Args:
        currency: How the shop prints money; None if its settings do not say.
        code: What stands behind an amount then.
    """
    if currency is None:
        return MoneyCells(after=code)
    if currency.position == "before":
        return MoneyCells(before=currency.symbol, decimals=currency.decimals)
    return MoneyCells(after=currency.symbol, decimals=currency.decimals)
