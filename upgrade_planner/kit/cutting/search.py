"""
The best way to cut, by trying all ways that may still be better (branch and bound).

Lengths are whole numbers here, in the smallest step that all of them share.
"""

from collections.abc import Iterator, Sequence

from attrs import define, field

from upgrade_planner.attributes import frozen

MOST_STEPS = 40_000
"""Steps of one search. Source: our assumption; about half a second."""

Cost = tuple[int, int, int, int]
"""Length left uncut, new reels, length of the opened reels at hand, opened reels."""


@frozen(order=True)
class Opened:
    """One reel that is cut from, and the pieces cut from it."""

    length: int
    pieces: tuple[int, ...]
    is_new: bool = False


@frozen
class Ways:
    """
    What is to be cut and from what.

    Attributes:
        pieces: Longest first; each fits a reel at hand or a new one.
        reels: At hand, shortest first.
        new: Length of a new reel; 0 if none can be bought.
    """

    pieces: tuple[int, ...]
    reels: tuple[int, ...]
    new: int

    def cost(self, opened: Sequence[Opened]) -> Cost:
        """What a way of cutting costs; of two, the lower is better."""
        done = sum(sum(one.pieces) for one in opened)
        new = sum(one.is_new for one in opened)
        held = sum(one.length for one in opened if not one.is_new)
        return sum(self.pieces) - done, new, held, len(opened)


def lower_bound(ways: Ways) -> Cost:
    """A cost that no way of cutting goes below: all lengths could be joined at will."""
    return _bound((0, 0, 0, 0), sum(ways.pieces), ways.reels, ways.new)


def least(lengths: Sequence[int], wanted: int) -> tuple[int, int]:
    """
    The smallest total of some of the lengths that reaches `wanted`, and the fewest it may take.

    Both are bounds: the fewest may be another choice than the smallest total.
    """
    if wanted <= 0:
        return 0, 0
    sums = 1
    for length in lengths:
        sums |= sums << length
    reached = sums >> wanted
    total = wanted + (reached & -reached).bit_length() - 1 if reached else sum(lengths)
    count = covered = 0
    for length in sorted(lengths, reverse=True):
        if covered >= wanted:
            break
        covered, count = covered + length, count + 1
    return total, count


_LONGEST_BITS = 200_000
"""Above this total the sums of reels are not listed and the bound is the plain difference."""


def _bound(spent: Cost, missing: int, closed: Sequence[int], new: int) -> Cost:
    """The least that covers the missing length too, from closed reels and new ones."""
    uncut, new_count, held, count = spent
    if missing <= 0:
        return spent
    at_hand = sum(closed)
    short = max(0, missing - at_hand)
    more_new = -(-short // new) if new else 0
    if not new:
        uncut += short
        missing -= short
    rest = missing - more_new * new
    if at_hand <= _LONGEST_BITS:
        length, reels = least(closed, rest)
    else:
        length, reels = max(rest, 0), int(rest > 0)
    return uncut, new_count + more_new, held + length, count + more_new + reels


@define
class _Search:
    ways: Ways
    best: tuple[Opened, ...]
    best_cost: Cost
    bins: list[list[int]] = field(factory=list)  # pieces of each opened reel
    lengths: list[int] = field(factory=list)
    free: list[int] = field(factory=list)
    news: list[bool] = field(factory=list)
    closed: list[int] = field(factory=list)
    uncut: int = 0
    steps: int = 0

    def run(self) -> None:
        self.closed = list(self.ways.reels)
        self._place(0, 0, sum(self.ways.pieces))

    def _spent(self) -> Cost:
        held = sum(self.lengths) - sum(self.news) * self.ways.new
        return self.uncut, sum(self.news), held, len(self.bins)

    def _place(self, number: int, first: int, rest: int) -> None:
        """Pieces from `number` on; the next one goes into no reel before the one called `first`."""
        self.steps += 1
        if self.steps > MOST_STEPS:
            return
        spent = self._spent()
        if number == len(self.ways.pieces):
            if spent < self.best_cost:
                self.best_cost, self.best = spent, self._opened()
            return
        if _bound(spent, rest - sum(self.free), self.closed, self.ways.new) >= self.best_cost:
            return
        piece = self.ways.pieces[number]
        follower = self.ways.pieces[number + 1 :][:1]
        for index in self._choices(piece, first):
            # Equal pieces are interchangeable: they go into reels in one order only.
            lowest = index if follower == (piece,) else 0
            self.bins[index].append(piece)
            self.free[index] -= piece
            self._place(number + 1, lowest, rest - piece)
            self.free[index] += piece
            self.bins[index].pop()
        self.uncut += piece
        lowest = len(self.bins) + len(self.closed) + 1 if follower == (piece,) else 0
        self._place(number + 1, max(lowest, 0), rest - piece)
        self.uncut -= piece

    def _choices(self, piece: int, first: int) -> Iterator[int]:
        """Numbers of reels that can hold the piece, opened ones first; of equal ones only one."""
        seen: set[int] = set()
        for index in range(first, len(self.bins)):
            if self.free[index] >= piece and self.free[index] not in seen:
                seen.add(self.free[index])
                yield index
        if first > len(self.bins):  # an equal piece was left uncut before
            return
        for length in sorted(set(self.closed)):
            if length >= piece:
                self.closed.remove(length)
                yield self._open(length, is_new=False)
                self._shut()
                self.closed.append(length)
        if self.ways.new >= piece:
            yield self._open(self.ways.new, is_new=True)
            self._shut()

    def _open(self, length: int, *, is_new: bool) -> int:
        self.bins.append([])
        self.lengths.append(length)
        self.free.append(length)
        self.news.append(is_new)
        return len(self.bins) - 1

    def _shut(self) -> None:
        for column in (self.bins, self.lengths, self.free, self.news):
            column.pop()

    def _opened(self) -> tuple[Opened, ...]:
        columns = zip(self.lengths, self.bins, self.news, strict=True)
        return tuple(Opened(length, tuple(held), is_new) for length, held, is_new in columns)


def searched(ways: Ways, start: tuple[Opened, ...]) -> tuple[tuple[Opened, ...], bool]:
    """
    The best way to cut, and whether the search came to its end.

    Args:
        ways: What is to be cut and from what.
        start: A way to beat.
    """
    search = _Search(ways, start, ways.cost(start))
    search.run()
    return search.best, search.steps <= MOST_STEPS
