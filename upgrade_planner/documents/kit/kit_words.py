"""Money of a kit in words, and what its articles are for."""

from collections.abc import Sequence
from decimal import Decimal

from upgrade_planner.documents.words.quantities import counted
from upgrade_planner.documents.words.wording import NBSP, role_words
from upgrade_planner.kit.orders import Order
from upgrade_planner.kit.prices.money import Currency

MOST_NAMED = 4
"""Wires named for one article. Source: our assumption; more nobody reads."""


def money_words(amount: Decimal, code: str, currency: Currency | None) -> str:
    """
    An amount as the shop prints it; with three letters if nothing better is known.

    A currency that the shop prints with fewer decimals than the amount has is not rounded.
    """
    if currency is None or amount != amount.quantize(currency.step):
        return f"{amount:.2f}{NBSP}{code}"
    return currency.words(amount)


def excluding_words(order: Order) -> str:
    """`excluding 2 open lines`; "" if all lines have a price."""
    count = len(order.open_lines)
    return f"excluding {counted(count, 'open line', space=NBSP)}" if count else ""


def used_for_words(names: Sequence[str]) -> str:
    """The wires and parts that an article is for, the first few by name."""
    words = [role_words(name) for name in names]
    if len(words) > MOST_NAMED:
        words[MOST_NAMED - 1 :] = [f"{len(words) - MOST_NAMED + 1} more"]
    return ", ".join(words)
