"""What hours of work look like as data."""

from typing import TypedDict


class HoursData(TypedDict):
    """Hours of work."""

    low: float
    likely: float
    high: float
