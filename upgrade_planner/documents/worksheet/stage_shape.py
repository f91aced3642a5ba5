"""What stages and the way back look like as data; the schema is made from these."""

from typing import Literal, TypedDict

from upgrade_planner.documents.shared.hours_shape import HoursData
from upgrade_planner.planning.way_back import Trace


class BaggedData(TypedDict):
    """
    Something that comes off and is kept.

    Attributes:
        step: Number of the step that takes it off.
        tag: Id of the wire, role of the part.
        number: Of the wire; 0 of a part.
        reusable: False if it can hardly go in again.
    """

    step: str
    tag: str
    number: int
    kind: Literal["wire", "part", "fuses", "insides"]
    length_m: float | None
    place: str
    reusable: bool


class SpecData(TypedDict):
    """Size and insulation of a wire."""

    size: str
    insulation: str


class AheadData(TypedDict):
    """A wire that is fitted in the size of a later stage."""

    wire: str
    for_stage: int
    planned: SpecData
    fitted: SpecData
    reason: str


class NotAheadData(TypedDict):
    """A wire that cannot be fitted in the size of a later stage, and why."""

    wire: str
    for_stage: int
    planned: SpecData
    wanted: SpecData
    why: str


class UndoneData(TypedDict):
    """What a later stage undoes."""

    what: str
    is_part: bool
    by_stage: int


class TotalsData(TypedDict):
    """How much work and material."""

    steps: int
    hours: HoursData
    cable_m: float
    parts: int
    terminals: int
    small_parts: int


class AllTotalsData(TypedDict):
    """The totals of one stage, of all, and of the same done in one job."""

    this_stage: TotalsData
    all_stages: TotalsData
    one_job: TotalsData


class StageData(TypedDict):
    """
    One stage of a job.

    Attributes:
        may_be_driven_after: null after the last stage.
        watch: Ids of readings to keep an eye on.
    """

    number: int
    of: int
    files: list[str]
    may_be_driven_after: bool | None
    watch: list[str]
    fitted_ahead: list[AheadData]
    not_ahead: list[NotAheadData]
    undone: list[UndoneData]
    totals: AllTotalsData


class LastingData(TypedDict):
    """A trace of a job that its way back does not undo."""

    trace: Trace
    what: str
    concerned: list[str]


class WayBackData(TypedDict):
    """
    The sheet that undoes a job.

    Attributes:
        undoes: Check code of the sheet that it undoes.
    """

    undoes: str
    bag: list[BaggedData]
    cannot_be_undone: list[LastingData]
    wires_to_make_new: list[str]
