"""What lists, finds, fits, upgrades and readings look like as data; schemas are made from these."""

from typing import Annotated, Literal, NotRequired, TypedDict

from upgrade_planner.documents.shared.data_text import DataForm
from upgrade_planner.documents.shared.hours_shape import HoursData
from upgrade_planner.documents.worksheet.reading_shape import LimitData, ProbesData, RangeData


class TraitData(TypedDict):
    """A trait: ids for programs, words for people."""

    ids: list[str]
    words: str


class ProfileData(TypedDict):
    """
    A shipped profile.

    Attributes:
        belongs_to: Slot of a system, vehicle of a configuration; "" for a vehicle.
        traits: Of a configuration; null if it is faulty.
    """

    kind: Literal["vehicle", "system", "configuration"]
    name: str
    title: str
    summary: str
    belongs_to: str
    traits: NotRequired[dict[str, TraitData] | None]


class CatalogueData(TypedDict):
    """All that ships."""

    profiles: list[ProfileData]


class SystemsData(TypedDict):
    """The systems that ship."""

    systems: list[ProfileData]


class PairData(TypedDict):
    """
    A ready upgrade.

    Attributes:
        family: The vehicle it is about.
    """

    family: str
    title: str
    before: str
    after: str


class PairsData(TypedDict):
    """The ready upgrades."""

    pairs: list[PairData]


class LeftOutData(TypedDict):
    """A configuration that could not be used, and why."""

    name: str
    reason: str


class FoundData(TypedDict):
    """
    A configuration.

    Attributes:
        systems: By slot.
    """

    name: str
    title: str
    vehicle: str
    systems: dict[str, str]
    traits: dict[str, TraitData]


class FindsData(TypedDict):
    """
    What was found by what one sees.

    Attributes:
        existing: What exists, by the name of each filter.
    """

    filters: dict[str, str]
    configurations: list[FoundData]
    existing: dict[str, list[str]]
    left_out: list[LeftOutData]


class FitData(TypedDict):
    """
    Whether a system fits.

    Attributes:
        missing: What stands against it.
    """

    system: str
    slot: str
    fits: bool
    missing: list[str]


class FitsData(TypedDict):
    """Systems for a vehicle."""

    vehicle: str
    systems: list[FitData]
    left_out: list[str]


class UpgradeData(TypedDict):
    """
    One upgrade.

    Attributes:
        wires, parts: How many have which fate.
        dangers: What stands in the target.
    """

    name: str
    title: str
    wires: dict[str, int]
    parts: dict[str, int]
    steps: int
    hours: HoursData
    dangers: list[str]


_Anchor = TypedDict("_Anchor", {"from": NotRequired[str], "to": NotRequired[str]})


class UpgradesData(_Anchor):
    """
    Upgrades `from` or `to` a configuration.

    Attributes:
        other_vehicles: How many configurations of other vehicles cannot be compared.
    """

    upgrades: list[UpgradeData]
    left_out: list[LeftOutData]
    other_vehicles: int


class VoltageData(TypedDict):
    """
    A voltage of a state.

    Attributes:
        live_v: Against the grounded battery post; null where nothing feeds it.
    """

    probe: str
    words: str
    live_v: float | None


class WireStateData(TypedDict):
    """A wire in a state."""

    wire: str
    current_a: float
    drop_v: float
    temperature_c: float


class StateData(TypedDict):
    """
    A configuration in one operating state.

    Attributes:
        solved: False if it could not be computed; it has no figures then.
    """

    state: str
    title: str
    solved: bool
    settled: NotRequired[bool]
    voltages: NotRequired[list[VoltageData]]
    wires: NotRequired[list[WireStateData]]


class _Leads(TypedDict):
    id: str
    operating_state: str
    state: str
    red: str
    black: str


class StateReadingData(_Leads, LimitData):
    """What can be read in a state."""

    probes: ProbesData | None
    expected: RangeData | None


class ReadingsData(TypedDict):
    """Readings of a configuration in its states."""

    configuration: str
    digest: str
    ground: Annotated[str, "choice", "negative", "positive"]
    states: list[StateData]
    readings: list[StateReadingData]


CATALOGUE = DataForm("catalogue", 1, CatalogueData)
SYSTEMS = DataForm("systems", 1, SystemsData)
PAIRS = DataForm("pairs", 1, PairsData)
FINDS = DataForm("finds", 2, FindsData)
FITS = DataForm("fits", 2, FitsData)
UPGRADES = DataForm("upgrades", 2, UpgradesData)
READINGS = DataForm("readings", 2, ReadingsData)
