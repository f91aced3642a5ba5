"""Which wires are cut from which reel."""

from collections import defaultdict
from collections.abc import Iterator, Mapping
from decimal import Decimal

from upgrade_planner.attributes import frozen
from upgrade_planner.kit.articles import Article
from upgrade_planner.kit.cutting.reels import Cutting, cut
from upgrade_planner.kit.orders import OrderLine
from upgrade_planner.kit.packing import Kit, Piece

SPARE = 0
"""Bag number of a piece that is packed as spare."""


@frozen(kw_only=True)
class CutReel:
    """
    One reel and the pieces cut from it, longest first.

    Attributes:
        source: `stock`, `new` (a reel to buy), `by length` (bought in the lengths needed) or
            `none` (no reel of the list is long enough, or the list has no such cable).
        length: On the reel before; None if it is bought by length or not known. [m]
    """

    source: str
    length: Decimal | None
    pieces: tuple[Piece, ...]

    @property
    def rest(self) -> Decimal | None:
        """What stays on the reel. [m]"""
        if self.length is None:
            return None
        return self.length - sum((piece.length for piece in self.pieces), Decimal(0))


@frozen(kw_only=True)
class CutLine:
    """The reels of one line of the order; `is_proven` as at `Cutting`."""

    line: OrderLine
    reels: tuple[CutReel, ...]
    is_proven: bool


def cut_lines(kit: Kit) -> Iterator[CutLine]:
    """Cable, fusible links and resistance wire, in the order of the shelves."""
    pieces: dict[Article, list[Piece]] = defaultdict(list)
    for piece in (*kit.pieces, *_spares(kit)):
        pieces[piece.article].append(piece)
    for line in kit.order.lines:
        wanted = [piece for one in line.articles for piece in pieces.get(one, ())]
        if wanted:
            yield _cut_line(line, wanted)


def _spares(kit: Kit) -> Iterator[Piece]:
    for bag in kit.order.bags:
        for line in bag.lines:
            if bag.vehicle == 0 and line.article.shelf == "cable":
                for length in line.pieces:
                    yield Piece(article=line.article, length=length, wire="spare", bag=SPARE)


def _cut_line(line: OrderLine, wanted: list[Piece]) -> CutLine:
    waiting: dict[Decimal, list[Piece]] = defaultdict(list)
    for piece in wanted:
        waiting[piece.length].append(piece)
    lengths = [piece.length for piece in wanted]
    stock = cut(lengths, line.line.lengths if line.line else ())
    reels = [*_reels(stock, "stock", waiting)]
    is_proven = stock.is_proven
    uncut = stock.uncut
    if uncut and line.line and not line.line.sold_by.is_cut:
        bought = cut(uncut, (), new_reel=line.line.contains)
        reels += _reels(bought, "new", waiting)
        uncut, is_proven = bought.uncut, is_proven and bought.is_proven
    if uncut:
        source = "by length" if line.line and line.line.sold_by.is_cut else "none"
        pieces = tuple(waiting[length].pop(0) for length in uncut)
        reels.append(CutReel(source=source, length=None, pieces=pieces))
    return CutLine(line=line, reels=tuple(reels), is_proven=is_proven)


def _reels(
    cutting: Cutting, source: str, waiting: Mapping[Decimal, list[Piece]]
) -> Iterator[CutReel]:
    """Equal lengths are given to the first bags first, as the shelf serves them."""
    for reel in cutting.reels:
        pieces = tuple(waiting[length].pop(0) for length in reel.pieces)
        yield CutReel(source=source, length=reel.length, pieces=pieces)
