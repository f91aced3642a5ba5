"""What a job buys, from its order: in selling units, so that price times units is exact."""

from upgrade_planner.kit.orders import Order, OrderLine
from upgrade_planner.quote.priced import Supply


def supplies_of(order: Order) -> tuple[Supply, ...]:
    """
    The lines of an order as an offer prices them; a line without a price stays open.

    The prices of the list are what the shop pays: the margin of its rates comes on top.
    """
    return tuple(_supply(line) for line in order.lines)


def _supply(line: OrderLine) -> Supply:
    words, sort = "; ".join(one.words for one in line.articles), line.articles[0].sort
    if line.line is None or line.sale is None or line.is_open:
        unit = line.articles[0].unit
        return Supply(words=words, sort=sort, quantity=line.to_pack, unit=unit, cost=None)
    return Supply(
        words=words,
        sort=sort,
        quantity=line.sale.units,
        unit=str(line.line.sold_by),
        cost=line.line.price,
        tax_class=line.line.tax_class,
    )
