"""How a cell of a workbook shows money."""

from upgrade_planner.configuration.tables.workbooks import MoneyCells
from upgrade_planner.documents.words.figures import ENGLISH, Figures, figures_of
from upgrade_planner.kit.prices.money import Currency


def money_cells(
    currency: Currency | None, code: str = "", figures: Figures | None = None
) -> MoneyCells:
    """
    Money as a paper prints it, as far as a spreadsheet follows: it has decimal marks of its own.

    Args:
        currency: Of the shop's settings; None if they do not say.
        code: What stands behind an amount then.
        figures: How it is written; as in English papers if not given.
    """
    if currency is None:
        return MoneyCells(after=code)
    before, after = (figures or figures_of(ENGLISH)).symbol(currency)
    return MoneyCells(before=before, after=after, decimals=currency.decimals)
