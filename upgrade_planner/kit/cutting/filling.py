"""
A good way to cut many pieces: reels filled one after the other, then put right.

Lengths are whole numbers, as in `cutting_search`.
"""

from collections import Counter
from collections.abc import Iterator, Sequence
from itertools import combinations

from upgrade_planner.kit.cutting.search import Opened, Ways

MOST_CHOSEN = 10
"""Reels at hand of which every choice is looked at. Source: our assumption, 1024 choices."""

MOST_FILLS = 60
"""Choices of reels that are really filled. Source: our assumption."""

LONGEST_FILL = 200_000
"""Steps of a reel up to which it is filled exactly. Source: our assumption; 2 km in centimetres."""


def filled_reels(ways: Ways) -> tuple[Opened, ...]:
    """A good way to cut, not always the best."""
    found = [_improved(way, ways) for way in _first_ways(ways.pieces, ways)]
    return min(found, key=ways.cost, default=())


def _first_ways(pieces: Sequence[int], ways: Ways) -> Iterator[tuple[Opened, ...]]:
    falling = tuple(reversed(ways.reels))
    for reels in (ways.reels, falling):
        yield _first_fit(pieces, reels, ways.new)
        yield _full(pieces, reels, ways.new)
    for chosen in _choices(sum(pieces), ways.reels):
        for reels in (chosen, chosen[::-1]):
            way = _full(pieces, reels, ways.new)
            yield way
        if sum(sum(one.pieces) for one in way) == sum(pieces) and not any(w.is_new for w in way):
            return  # the choices come in rising order: no later one opens less


def _choices(total: int, reels: tuple[int, ...]) -> list[tuple[int, ...]]:
    """Choices of reels that hold enough, the shortest total first."""
    if len(reels) > MOST_CHOSEN:
        return []
    numbers = range(1, len(reels) + 1)
    enough = {c for n in numbers for c in combinations(reels, n) if sum(c) >= total}
    return sorted(enough, key=lambda chosen: (sum(chosen), len(chosen)))[:MOST_FILLS]


def _first_fit(pieces: Sequence[int], reels: Sequence[int], new: int) -> tuple[Opened, ...]:
    """Longest piece first, each into the first reel that has room."""
    lengths, held, is_new = list(reels), [[] for _ in reels], [False] * len(reels)  # type: ignore[var-annotated]
    for piece in pieces:
        rooms = (n for n, length in enumerate(lengths) if length - sum(held[n]) >= piece)
        index = next(rooms, None)
        if index is None and new >= piece:
            index = len(lengths)
            lengths.append(new)
            held.append([])
            is_new.append(True)
        if index is not None:
            held[index].append(piece)
    columns = zip(lengths, held, is_new, strict=True)
    return tuple(
        Opened(length, tuple(inside), bought) for length, inside, bought in columns if inside
    )


def _full(pieces: Sequence[int], reels: Sequence[int], new: int) -> tuple[Opened, ...]:
    """Each reel as full as it can be, one after the other."""
    rest, opened, number = Counter(pieces), [], 0
    while rest:
        is_new = number >= len(reels)
        length = new if is_new else reels[number]
        number += 1
        chosen = fullest(tuple(rest.elements()), length)
        if not chosen and is_new:
            break
        if chosen:
            opened.append(Opened(length, chosen, is_new))
            rest -= Counter(chosen)
    return tuple(opened)


def fullest(pieces: Sequence[int], room: int) -> tuple[int, ...]:
    """
    The pieces whose total comes nearest to `room` from below; longest first if the reel is huge.

    Example:
        >>> fullest((6, 5, 4), 9)
        (5, 4)
    """
    if sum(pieces) <= room:
        return tuple(pieces)
    if room > LONGEST_FILL:
        return _longest_first(pieces, room)
    within = (1 << (room + 1)) - 1
    reached = [1]
    ordered = sorted(pieces)  # the last one looked at is tried first: long pieces go first
    for piece in ordered:
        reached.append((reached[-1] | reached[-1] << piece) & within)
    total, chosen = reached[-1].bit_length() - 1, []
    for piece, before in zip(reversed(ordered), reversed(reached[:-1]), strict=True):
        if total >= piece and before >> (total - piece) & 1:
            chosen.append(piece)
            total -= piece
    return tuple(chosen)


def _longest_first(pieces: Sequence[int], room: int) -> tuple[int, ...]:
    chosen = []
    for piece in sorted(pieces, reverse=True):
        if piece <= room:
            chosen.append(piece)
            room -= piece
    return tuple(chosen)


def _improved(way: tuple[Opened, ...], ways: Ways) -> tuple[Opened, ...]:
    """The same with reels emptied into others, and shorter reels where they do."""
    better = _tightened(_emptied(way), ways.reels)
    return min((way, better), key=ways.cost)


def _emptied(way: tuple[Opened, ...]) -> tuple[Opened, ...]:
    """Reels whose pieces find room on the others are not opened; new and emptiest ones first."""
    kept = sorted(way, key=lambda one: (not one.is_new, sum(one.pieces)))
    number = 0
    while number < len(kept):
        moved = _spread(kept[number].pieces, kept[:number] + kept[number + 1 :])
        number += moved is None
        kept = kept if moved is None else moved
    return tuple(kept)


def _spread(pieces: Sequence[int], others: Sequence[Opened]) -> list[Opened] | None:
    """The others with these pieces too, each where it leaves the least; None if one has no room."""
    held = list(others)
    for piece in sorted(pieces, reverse=True):
        rooms = [(one.length - sum(one.pieces), n) for n, one in enumerate(held)]
        fitting = min((room for room in rooms if room[0] >= piece), default=None)
        if fitting is None:
            return None
        one = held[fitting[1]]
        held[fitting[1]] = Opened(one.length, (*one.pieces, piece), one.is_new)
    return held


def _tightened(way: tuple[Opened, ...], reels: Sequence[int]) -> tuple[Opened, ...]:
    """What is cut from one reel is cut from a shorter one that is still closed, if it is enough."""
    closed = Counter(reels) - Counter(one.length for one in way if not one.is_new)
    tight = []
    for one in sorted(way, key=lambda one: -one.length):
        need = sum(one.pieces)
        fits = (r for r in sorted(closed) if closed[r] and r >= need)
        shorter = next((r for r in fits if one.is_new or r < one.length), None)
        if shorter is not None:
            closed[shorter] -= 1
            if not one.is_new:
                closed[one.length] += 1
            one = Opened(shorter, one.pieces)  # noqa: PLW2901
        tight.append(one)
    return tuple(tight)
