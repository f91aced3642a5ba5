"""
Classes of attributes that never change: what attrs makes, in half of the time.

A command makes some hundred of them before it starts, and three of the four methods that attrs
writes and compiles for each are the same in all but the names. Here these are shared; the values
they compare are collected by the interpreter itself, so that they are as quick.
"""

from __future__ import annotations

from operator import attrgetter
from typing import TYPE_CHECKING, Any

__all__ = ["frozen"]

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable

    from attrs import frozen
else:
    import attrs

    def frozen(
        made: type | None = None, *, kw_only: bool = False, eq: bool = True, order: bool = False
    ) -> Any:
        """
        As `attrs.frozen`.

        Args:
            made: The class; None if the decorator is called with arguments.
            kw_only: Whether all attributes are given by name.
            eq: Whether instances with equal attributes are equal.
            order: Whether they have an order, by their attributes in turn.
        """

        def decorated(cls: type) -> type:
            own = cls.__dict__.keys()
            cls = attrs.frozen(cls, kw_only=kw_only, eq=order, order=order, repr=False)
            shared = {"__repr__": _shown}
            if eq and not order:
                shared |= _comparing(cls.__attrs_attrs__)
            for name in shared.keys() - own:
                setattr(cls, name, shared[name])
            return cls

        return decorated if made is None else decorated(made)


def _comparing(attributes: Iterable[Any]) -> dict[str, Callable[..., Any]]:
    """Equality and hash of classes with some attributes."""
    compared = _values([a.name for a in attributes if a.eq])
    hashed = _values([a.name for a in attributes if (a.eq if a.hash is None else a.hash)])

    def is_equal(self: Any, other: object) -> Any:
        if other.__class__ is not self.__class__:
            return NotImplemented
        return compared(self) == compared(other)

    def hash_of(self: Any) -> int:
        return hash(hashed(self))

    return {"__eq__": is_equal, "__hash__": hash_of}


def _values(names: list[str]) -> Callable[[Any], Any]:
    return attrgetter(*names) if names else lambda _: ()


def _shown(self: Any) -> str:
    """The class and what its instance was made of."""
    values = (f"{a.name}={getattr(self, a.name)!r}" for a in self.__attrs_attrs__ if a.repr)
    return f"{type(self).__qualname__}({', '.join(values)})"
