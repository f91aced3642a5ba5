"""What readings look like as data; the schema is made from these."""

from typing import Annotated, TypedDict

Direction = Annotated[str, "choice", "low", "high"]


class RangeData(TypedDict):
    """What a meter shows, from what may be to what may be."""

    low_v: float
    nominal_v: float
    high_v: float


class ProbesData(TypedDict):
    """Where the leads go: terminals, or lumps of metal."""

    red: str
    black: str


class OtherLimit(TypedDict):
    """The same limit at another temperature, in the unit of the reading and °C."""

    min: float | None
    max: float | None
    at_c: float | None


class LimitData(TypedDict):
    """
    What a source allows.

    Attributes:
        limit: As printed.
        min, max: In `unit`; null where there is none.
        at_a: Current at which it holds.
        at_c: Temperature at which it holds; null at any.
        others: The same limit at other temperatures.
        compared_with: `battery` where the voltage between its posts at that moment is the limit.
    """

    limit: str
    min: float | None
    max: float | None
    unit: str
    at_a: float | None
    at_c: float | None
    others: list[OtherLimit]
    compared_with: str | None
    source: str


class SuspectData(TypedDict):
    """
    A fault that moves a reading out of its range.

    Attributes:
        wire: Id; null where a ground is meant.
        ground_of: Role of the part whose ground is meant.
    """

    direction: Direction
    wire: str | None
    ground_of: str | None
    open: bool
    bad_joint: bool
    moved_to_v: float


class ExpectationData(TypedDict):
    """What is to be read, in the wiring before and after."""

    operating_state: str
    probes: ProbesData | None
    probes_before: ProbesData | None
    before: RangeData | None
    after: RangeData | None
    suspects: list[SuspectData]


class _Leads(TypedDict):
    id: str
    state: str
    red: str
    black: str


class ReadingData(_Leads, LimitData, ExpectationData):
    """One reading of a work sheet."""

    if_not: str
    look_if_low: list[str]
    look_if_high: list[str]
