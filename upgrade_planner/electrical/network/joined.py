"""Which nodes of a network are joined to its reference, by their indices."""

from collections.abc import Iterable

Pairs = Iterable[tuple[int, int]]


class Joined:
    """
    Indices up to a size, that of the reference, joined by pairs.

    Args:
        size: Index of the reference.
        pairs: Indices that are joined.
    """

    def __init__(self, size: int, pairs: Pairs) -> None:
        roots = _roots(size + 1, pairs)
        numbers = {root: number for number, root in enumerate(dict.fromkeys(roots))}
        self._island = [numbers[root] for root in roots]
        self._count = len(numbers)

    def unheld(self, pairs: Pairs) -> tuple[int, ...]:
        """Indices that nothing joins to the reference, with some more pairs; these as needed."""
        if self._count == 1:
            return ()
        island = self._island
        adrift = {*apart(self._count, ((island[a], island[b]) for a, b in pairs), island[-1])}
        return tuple(i for i, number in enumerate(island) if number in adrift) if adrift else ()


def apart(count: int, pairs: Pairs, mainland: int) -> list[int]:
    """Indices below a count that no chain of pairs joins to one of them."""
    roots = _roots(count, pairs)
    root = roots[mainland]
    return [index for index, other in enumerate(roots) if other != root]


def _roots(count: int, pairs: Pairs) -> list[int]:
    """Union-find: for each index the one that stands for all that are joined to it."""
    parent = list(range(count))
    for one, other in pairs:
        a, b = one, other
        while parent[a] != a:
            parent[a] = a = parent[parent[a]]
        while parent[b] != b:
            parent[b] = b = parent[parent[b]]
        parent[a] = b
    for index in range(count):
        root = parent[index]
        while parent[root] != root:
            root = parent[root]
        parent[index] = root
    return parent
