"""What formulas demand of their arguments."""

from math import inf


def require_above_zero(value: float, name: str) -> None:
    """
    Raises:
        ValueError: the value is not above 0, or not finite.
    """
    if not 0 < value < inf:
        raise ValueError(f"{name}: a finite number above 0 is wanted, found {value:g}")
