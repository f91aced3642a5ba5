"""
Cuts lengths from the reels at hand so that little is left over.

Cutting stock in one dimension. Of all ways to cut, the best leaves the fewest metres uncut, then
buys the fewest new reels, then opens the least length of reels at hand (so that short ends are used
up first), then the fewest reels. A saw cut takes nothing away: cable is cut with a shear.
"""

from collections import Counter
from collections.abc import Iterable, Sequence
from decimal import Decimal

from upgrade_planner.attributes import frozen
from upgrade_planner.kit.cutting.filling import filled_reels
from upgrade_planner.kit.cutting.search import Opened, Ways, lower_bound, searched

SMALL = 14
"""Pieces up to which every way of cutting is searched. Source: our assumption; takes no second."""


@frozen(kw_only=True)
class Reel:
    """
    One reel and what is cut from it.

    Attributes:
        length: What was on it. Same unit as the pieces.
        pieces: Cut from it, longest first.
        is_new: Bought for this, not from stock.
    """

    length: Decimal
    pieces: tuple[Decimal, ...]
    is_new: bool = False

    @property
    def rest(self) -> Decimal:
        """What stays on the reel."""
        return self.length - sum(self.pieces, Decimal(0))


@frozen(kw_only=True)
class Cutting:
    """
    How the pieces are cut.

    Attributes:
        reels: Those that are cut from, stock first.
        uncut: Pieces for which no reel is left, longest first.
        is_proven: No other way is better by the order above.
    """

    reels: tuple[Reel, ...] = ()
    uncut: tuple[Decimal, ...] = ()
    is_proven: bool = True

    @property
    def opened(self) -> Decimal:
        """Length of all reels that are cut from."""
        return sum((reel.length for reel in self.reels), Decimal(0))

    @property
    def rest(self) -> Decimal:
        """What stays on the reels that are cut from."""
        return sum((reel.rest for reel in self.reels), Decimal(0))

    @property
    def new_reels(self) -> int:
        """Reels to buy."""
        return sum(reel.is_new for reel in self.reels)

    @property
    def from_stock(self) -> tuple[Decimal, ...]:
        """Pieces that come from reels at hand."""
        return tuple(piece for reel in self.reels if not reel.is_new for piece in reel.pieces)


def cut(
    pieces: Iterable[Decimal], reels: Iterable[Decimal], *, new_reel: Decimal | None = None
) -> Cutting:
    """
    The pieces cut from reels at hand, and from new ones if they can be bought.

    Up to `SMALL` pieces the result is the best there is, unless the search grows too long
    (`is_proven` says so); above that it is a good one, mostly proven by its lower bound.

    Args:
        pieces: Lengths to cut; each stays in one piece.
        reels: Lengths at hand.
        new_reel: Length of a new reel, of which there are as many as wanted; None if there are
            none.

    Raises:
        ValueError: a length is not above zero.

    Example:
        >>> plan = cut([Decimal(4), Decimal("2.5")], [Decimal(30), Decimal(7)])
        >>> [f"{reel.length:f} with {reel.rest:f} left" for reel in plan.reels]
        ['7.0 with 0.5 left']
    """
    wanted, held = sorted(pieces, reverse=True), sorted(reels)
    bought = () if new_reel is None else (new_reel,)
    for length in (*wanted, *held, *bought):
        if not length.is_finite() or length <= 0:
            raise ValueError(f"lengths above zero are wanted, found {length}")
    longest = max((*held, *bought), default=Decimal(0))
    steps = _steps([*wanted, *held, *bought])
    ways = Ways(
        pieces=tuple(steps(piece) for piece in wanted if piece <= longest),
        reels=tuple(map(steps, held)),
        new=sum(map(steps, bought)),
    )
    best, is_proven = _best(ways)
    return _cutting(best, wanted, Decimal(1).scaleb(-steps.digits), is_proven=is_proven)


@frozen
class _Steps:
    """Lengths as whole numbers of the smallest decimal step that all of them share."""

    digits: int

    def __call__(self, length: Decimal) -> int:
        return int(length.scaleb(self.digits))


def _steps(lengths: Iterable[Decimal]) -> _Steps:
    exponents = (length.normalize().as_tuple().exponent for length in lengths)
    return _Steps(
        max((-exponent for exponent in exponents if isinstance(exponent, int)), default=0)
    )


def _best(ways: Ways) -> tuple[tuple[Opened, ...], bool]:
    start = filled_reels(ways)
    bound = lower_bound(ways)
    if ways.cost(start) == bound:
        return start, True
    if len(ways.pieces) <= SMALL:
        return searched(ways, start)
    return start, False


def _cutting(
    opened: Sequence[Opened], wanted: Sequence[Decimal], step: Decimal, *, is_proven: bool
) -> Cutting:
    reels = tuple(
        Reel(
            length=one.length * step,
            pieces=tuple(piece * step for piece in sorted(one.pieces, reverse=True)),
            is_new=one.is_new,
        )
        for one in sorted(opened, key=lambda one: (one.is_new, one.length, one.pieces))
    )
    done = Counter(piece for reel in reels for piece in reel.pieces)
    uncut = tuple(sorted((Counter(wanted) - done).elements(), reverse=True))
    return Cutting(reels=reels, uncut=uncut, is_proven=is_proven)
