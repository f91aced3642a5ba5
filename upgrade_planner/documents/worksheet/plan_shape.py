"""What a plan and a comparison look like as data; the schema is made from these."""

from typing import Annotated, Any, NotRequired, TypedDict

from upgrade_planner.comparison.part_changes import PartDisposition
from upgrade_planner.comparison.results import Policy
from upgrade_planner.comparison.wire_changes import Disposition
from upgrade_planner.configuration.end_fittings import Fastening
from upgrade_planner.configuration.model import Conductor
from upgrade_planner.documents.shared.data_text import DataForm
from upgrade_planner.documents.shared.finding_shape import ConfigurationData, FindingData
from upgrade_planner.documents.words.shelves import SHELVES
from upgrade_planner.documents.worksheet.reading_shape import ReadingData
from upgrade_planner.documents.worksheet.stage_shape import BaggedData, StageData, WayBackData
from upgrade_planner.planning.operations import Held, Phase, Side, Work

Shelf = Annotated[str, "choice", *SHELVES]
HazardWord = Annotated[str, "choice", "DANGER", "WARNING", "CAUTION", "NOTICE"]


class PartData(TypedDict):
    """
    What happens to a part.

    Attributes:
        before, after: Its name; null where it is not there.
    """

    role: str
    disposition: PartDisposition
    before: str | None
    after: str | None
    reason: str
    differences: list[str]


class EndData(TypedDict):
    """
    One end of a wire.

    Attributes:
        terminal: As profiles name it.
        printed: The same as printed.
    """

    terminal: str
    printed: str
    place: str
    hardware: str


_Ends = TypedDict("_Ends", {"from": str, "to": str})


class WireData(_Ends):
    """A conductor."""

    id: str
    length_m: float
    cut_length_m: float
    looms: list[str]
    connectors: list[str]
    ends: list[EndData]
    size: str
    area_mm2: float
    conductor: Conductor
    resistance_ohm: float | None
    insulation: str
    colour: str
    note: str


class NumbersData(TypedDict):
    """The number on the tag of a conductor, before and after."""

    before: int | None
    after: int | None


class WireChangeData(TypedDict):
    """
    What happens to a wire.

    Attributes:
        old_stays: The old conductor of a resized wire stays, capped.
    """

    mark: str
    numbers: NumbersData
    circuit: str
    disposition: Disposition
    old_stays: bool
    before: WireData | None
    after: WireData | None
    reason: str
    differences: list[str]


class MaterialData(TypedDict):
    """
    An article and how much of it.

    Attributes:
        group: Heading of the shelf.
        item: The article in words.
        quantity: In `unit`.
        wires: What it is for: wires or parts.
    """

    group: str
    shelf: Shelf
    article: str
    traits: dict[str, str]
    item: str
    unit: str
    quantity: float
    pieces_m: list[float]
    wires: list[str]


class WaitData(TypedDict):
    """A step that must be done first, and why."""

    id: str
    reason: str


class JointWireData(TypedDict):
    """A wire at a terminal, with the number on its tag."""

    id: str
    side: Side
    number: int


class FittingData(TypedDict):
    """
    What lies on a terminal.

    Attributes:
        on_block: It lies on a distribution block beside a stud that is full.
        item: The article of what is made; null where nothing is.
    """

    fastening: Fastening
    wires: list[str]
    new: bool
    on_block: bool
    item: str | None


class JointData(TypedDict):
    """
    The terminal of a step.

    Attributes:
        stack: From the bottom.
        torque_nm: Low and high; empty where none is given.
    """

    terminal: str
    wires: list[JointWireData]
    stack: list[FittingData]
    adapters: int
    torque_nm: list[float]


class LeftData(TypedDict):
    """What stays under a nut that is tightened again."""

    terminal: str
    wires: list[str]
    torque_nm: list[float]


class SlotData(TypedDict):
    """One line of a slot table."""

    slot: str
    terminal: str
    rated_current_a: float
    feeds: list[str]


class JudgedData(TypedDict):
    """
    What a value to write down is held against.

    Attributes:
        value: In the unit of the step; null where it is another reading.
        of: `leads`, the meter's own leads held together; "" where it is a figure.
    """

    held: Held
    value: float | None
    of: str


class _StepOfWork(TypedDict):
    number: str
    row: str
    id: str
    phase: Phase
    place: str
    line: str
    reverse: str
    after: list[WaitData]
    materials: list[MaterialData]


class ProcedureData(TypedDict, total=False):
    """
    What a step of testing, recording or making safe has beside the others.

    Attributes:
        readings: Ids of the readings taken in it.
        ends: Wire and terminal.
        standing: Which of the standing steps it is; "" if none.
    """

    work: Work
    readings: list[str]
    details: list[str]
    ends: list[list[str]]
    expected: str
    if_not: str
    unit: str
    judged: list[JudgedData]
    hold: bool
    standing: str
    source: str


class StepData(_StepOfWork, ProcedureData):
    """
    One step.

    Attributes:
        row: The row of the sheet that has its tick.
        digest: Fingerprint of what the step says and takes, without its number.
    """

    joint: NotRequired[JointData]
    left_behind: NotRequired[list[LeftData]]
    fuses: NotRequired[list[SlotData]]
    digest: NotRequired[str]


class HazardData(TypedDict):
    """
    A message about danger.

    Attributes:
        phases: Letters of the phases at whose head it stands; `job` before all of them.
    """

    id: str
    word: HazardWord
    hazard: str
    avoid: str
    if_it_happens: str
    phases: list[str]
    source: str


class ChangesData(TypedDict):
    """What happens to every part and wire."""

    parts: list[PartData]
    wires: list[WireChangeData]


class _Identity(TypedDict):
    sheet_number: str
    revision: str
    date: str
    check_code: str


class _Sides(TypedDict):
    policy: Policy
    before: ConfigurationData
    after: ConfigurationData


class OneJobData(_Identity, _Sides, ChangesData):
    """What every plan says."""

    places: dict[str, str]
    steps: list[StepData]
    materials: list[MaterialData]
    gives_back: list[MaterialData]
    readings: list[ReadingData]
    hazards: list[HazardData]
    findings_after: list[FindingData]


class PlanData(OneJobData):
    """
    A plan; lengths in metres, areas in mm², resistances in ohms.

    Attributes:
        check_code: Of both configurations and the policy.
        places: Name as printed, by id.
        gives_back: Parts that come off and can go back as cores.
        bag: What comes off and is kept.
    """

    bag: NotRequired[list[BaggedData]]
    stage: NotRequired[StageData]
    way_back: NotRequired[WayBackData]


class DifferenceData(TypedDict):
    """
    One thing that is written differently in two configurations.

    Attributes:
        path: Keys from the top: `wires`, id of a wire, `size`.
        before, after: Value or table; null if there is none.
    """

    path: list[str]
    before: Any
    after: Any


class ComparisonData(_Sides, ChangesData):
    """Two configurations compared."""

    configuration_differences: list[DifferenceData]


PLAN = DataForm("plan", 3, PlanData)
COMPARISON = DataForm("comparison", 2, ComparisonData)
