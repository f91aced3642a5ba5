"""Which nodes of a network are joined to its reference, by their indices."""

from collections.abc import Iterable


class Joined:
    """
    Indices up to a size, that of the reference, joined by pairs.

    Args:
        size: Index of the reference.
        pairs: Indices that are joined.
    """

    def __init__(self, size: int, pairs: Iterable[tuple[int, int]]) -> None:
        parent = list(range(size + 1))
        _join(parent, pairs)
        roots = [_root(parent, index) for index in range(size + 1)]
        numbers = {root: number for number, root in enumerate(dict.fromkeys(roots))}
        self._island = [numbers[root] for root in roots]
        self._count = len(numbers)

    def unheld(self, pairs: Iterable[tuple[int, int]]) -> tuple[int, ...]:
        """Indices that nothing joins to the reference, with some more pairs; these as needed."""
        if self._count == 1:
            return ()
        island, parent = self._island, list(range(self._count))
        _join(parent, ((island[a], island[b]) for a, b in pairs))
        mainland = _root(parent, island[-1])
        adrift = {n for n in range(self._count) if _root(parent, n) != mainland}
        return tuple(i for i, number in enumerate(island) if number in adrift) if adrift else ()


def _join(parent: list[int], pairs: Iterable[tuple[int, int]]) -> None:
    for a, b in pairs:
        parent[_root(parent, a)] = _root(parent, b)


def _root(parent: list[int], index: int) -> int:
    while parent[index] != index:
        parent[index] = parent[parent[index]]
        index = parent[index]
    return index
