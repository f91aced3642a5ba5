"""One and the same object as the key of what is kept of it."""

from typing import Generic, TypeVar

T = TypeVar("T")

KEPT = 4000
"""How much is kept of entries, parts and wires: all that ships has about as many. Our own."""


class This(Generic[T]):
    """
    Stands for one object that does not change, equal to nothing else.

    An entry of a file cannot be a key itself, for its ratings are a dict; and what is equal may
    have been written elsewhere, or otherwise: 1 and 1.0.
    """

    __slots__ = ("value",)

    def __init__(self, value: T) -> None:
        self.value = value

    def __hash__(self) -> int:
        return id(self.value)

    def __eq__(self, other: object) -> bool:
        return isinstance(other, This) and self.value is other.value
