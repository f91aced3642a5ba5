"""Times of work: a shop's own file, or the one that ships with the program."""

import math
from collections.abc import Callable, Iterable, Iterator, Mapping
from functools import cache
from pathlib import Path
from typing import Annotated, Any, ClassVar, TypeVar

from attrs import Factory, evolve

from upgrade_planner.attributes import frozen
from upgrade_planner.configuration.files.faults import (
    Fault,
    FieldFault,
    one_of,
    quoted,
    shown,
)
from upgrade_planner.configuration.files.loaded import Loaded, sound
from upgrade_planner.configuration.files.positions import Origin
from upgrade_planner.configuration.files.shipped import shipped_folder
from upgrade_planner.configuration.files.toml_files import TomlFile, read_toml
from upgrade_planner.configuration.registry import kinds
from upgrade_planner.configuration.structuring.hooks import structured
from upgrade_planner.configuration.ways import Place
from upgrade_planner.kit.past_jobs import fitted_factors, read_past_jobs
from upgrade_planner.planning.standing_data import standing_step_ids

LONGEST_MIN, LARGEST_FACTOR = 10_000.0, 100.0
"""Our assumption: no single operation takes a month, no place makes work a hundred times harder."""

LEAST_OWN = 0.2
"""A shop that needs a fifth, or five times, of what the table says has another table. Source: our
assumption."""

SETTLED_YEARS = 20
"""Age up to which a vehicle comes apart as it went together. [years] Source: our assumption."""


@frozen
class Minutes:
    """An estimate of time: if all goes well, as a rule, if much is seized or brittle. [min]"""

    low: float = 0.0
    likely: float = 0.0
    high: float = 0.0

    def __attrs_post_init__(self) -> None:
        """Nobody is slower when all goes well."""
        if not 0.0 <= self.low <= self.likely <= self.high:
            raise ValueError(f"minutes out of order: {self.low}, {self.likely}, {self.high}")

    def __add__(self, other: "Minutes") -> "Minutes":
        """Both, one after the other."""
        return Minutes(self.low + other.low, self.likely + other.likely, self.high + other.high)

    def times(self, factor: float) -> "Minutes":
        """The same work, harder or more of it."""
        return Minutes(self.low * factor, self.likely * factor, self.high * factor)

    @property
    def hours(self) -> tuple[float, float, float]:
        """Low, likely and high. [h]"""
        return self.low / 60, self.likely / 60, self.high / 60


def added(minutes: Iterable[Minutes]) -> Minutes:
    """The sum."""
    return sum(minutes, Minutes())


# Notations of the file ---------------------------------------------------------------------------


def _three(value: Any, largest: float, example: str) -> tuple[float, float, float]:
    wanted = f"three numbers that do not fall, from 0: low, likely, high, such as {example}"
    if not isinstance(value, list):
        raise FieldFault(shown(value), wanted)
    if len(value) != 3:
        raise FieldFault(f"a list of {len(value)}", wanted)
    for index, number in enumerate(value):
        if not _is_number(number) or not 0 <= number <= largest:
            raise FieldFault(shown(number), f"a number from 0 to {largest:g}", inner=(index,))
    if not value[0] <= value[1] <= value[2]:
        raise FieldFault(f"{value[0]:g}, {value[1]:g}, {value[2]:g}", wanted)
    return float(value[0]), float(value[1]), float(value[2])


def _minutes_from(value: Any) -> Minutes:
    return Minutes(*_three(value, LONGEST_MIN, "[1, 1.5, 4]"))


def _common_from(value: Any) -> tuple[float, float, float]:
    """Old work is never quicker as a rule, but may be if all goes well."""
    low, likely, high = _three(value, LARGEST_FACTOR, "[0.85, 1.0, 1.6]")
    if not low > 0 or likely < 1:
        raise FieldFault(f"{low:g}, {likely:g}, {high:g}", "a factor of 1 or more as a rule")
    return low, likely, high


def _between(least: float, most: float) -> Callable[[Any], float]:
    def read(value: Any) -> float:
        if not _is_number(value) or not least <= value <= most:
            raise FieldFault(shown(value), f"a number from {least:g} to {most:g}, without quotes")
        return float(value)

    return read


def _is_number(value: Any) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool) and math.isfinite(value)


Three = Annotated[Minutes, _minutes_from]
Factor = Annotated[float, _between(1.0, LARGEST_FACTOR)]
Share = Annotated[float, _between(0.0, 1.0)]
Own = Annotated[float, _between(LEAST_OWN, 1 / LEAST_OWN)]
Common = Annotated[tuple[float, float, float], _common_from]

_THREE = "[1, 1.5, 4]"


class _Examples(dict[str, str]):
    """What a missing key of these tables should look like: three minutes unless said otherwise."""

    def get(self, key: str, default: Any = None) -> Any:
        """The example for a key."""
        return super().get(key, _THREE)


# Tables ------------------------------------------------------------------------------------------


@frozen(kw_only=True)
class OperationTimes:
    """
    The `[operations]` table.

    Attributes:
        in_loom: Factor on a wire among others in a taped loom.
        open_loom_metre, close_loom_metre: Unwinding and winding a loom, once for all its wires.
    """

    stands_in_a_file: ClassVar[bool] = True
    examples: ClassVar[Mapping[str, str]] = _Examples(in_loom="1.5")
    detach_end: Three
    attach_end: Three
    make_end: Three
    take_out_wire: Three
    take_out_metre: Three
    run_wire: Three
    run_metre: Three
    in_loom: Factor
    open_loom_metre: Three
    close_loom_metre: Three
    lead_across: Three
    cap_wire: Three
    uncap_wire: Three
    other_fuses: Three
    care_for_wire: Three
    care_for_part: Three
    find_cause: Three
    take_off_part: Three
    fit_part: Three


@frozen(kw_only=True)
class PartTimes:
    """A `[parts.KIND]` table."""

    stands_in_a_file: ClassVar[bool] = True
    examples: ClassVar[Mapping[str, str]] = _Examples()
    take_off: Three
    fit: Three


@frozen(kw_only=True)
class StepTimes:
    """
    The `[steps]` table.

    Attributes:
        longer: By id of the standing step, in place of `step` or `hold`.
        each: The same, on top for each wire and part that the job has in hand.
    """

    stands_in_a_file: ClassVar[bool] = True
    examples: ClassVar[Mapping[str, str]] = _Examples()
    step: Three
    hold: Three
    photograph: Three
    tag: Three
    reading: Three
    trial: Three
    longer: dict[str, Three] = Factory(dict)
    each: dict[str, Three] = Factory(dict)


Value = TypeVar("Value", Minutes, float)


def _of_place(
    place: Place, engine: Value, outside: Value, cabin: Value, own: Mapping[str, Value]
) -> Value:
    """What holds at a place: its own by id, else that of its space."""
    by_space = {"engine": engine, "outside": outside, "cabin": cabin}
    return own.get(place.id, by_space[place.space])


@frozen(kw_only=True)
class SettingUp:
    """The `[setting_up]` table: by space, or by id of a single place."""

    stands_in_a_file: ClassVar[bool] = True
    examples: ClassVar[Mapping[str, str]] = _Examples()
    engine: Three
    outside: Three
    cabin: Three
    places: dict[str, Three] = Factory(dict)

    def at(self, place: Place) -> Minutes:
        """Getting to a place and closing it again. [min]"""
        return _of_place(place, self.engine, self.outside, self.cabin, self.places)


@frozen(kw_only=True)
class Access:
    """The `[access]` table: factor by space, or by id of a single place."""

    stands_in_a_file: ClassVar[bool] = True
    examples: ClassVar[Mapping[str, str]] = {"engine": "1.0", "outside": "1.1", "cabin": "1.3"}
    engine: Factor
    outside: Factor
    cabin: Factor
    places: dict[str, Factor] = Factory(dict)

    def at(self, place: Place) -> float:
        """Factor on work at a place."""
        return _of_place(place, self.engine, self.outside, self.cabin, self.places)


@frozen(kw_only=True)
class AgeAndFinds:
    """What is known of a vehicle beside its wiring: how much was found on it, its age if known."""

    finds: int = 0
    age_years: int | None = None


@frozen(kw_only=True)
class OldVehicle:
    """
    The `[old_vehicle]` table: the risk common to all work on one vehicle.

    Attributes:
        factor: Low, likely and high.
        each_decade: On its high value, for each ten years of age beyond the first twenty.
        each_find: The same for each wire or part that was found altered or worn.
        most: Highest value whatever is found.
    """

    stands_in_a_file: ClassVar[bool] = True
    examples: ClassVar[Mapping[str, str]] = {"factor": "[0.85, 1.0, 1.6]"}
    factor: Common
    each_decade: Share = 0.0
    each_find: Share = 0.0
    most: Factor = 3.0

    def factor_of(self, vehicle: AgeAndFinds) -> tuple[float, float, float]:
        """
        The factor of one vehicle: its spread follows age and finds.

        Example:
            >>> table = OldVehicle(factor=(0.9, 1.0, 1.5), each_decade=0.05, each_find=0.1)
            >>> table.factor_of(AgeAndFinds(finds=2, age_years=60))
            (0.9, 1.0, 1.9)
        """
        low, likely, high = self.factor
        decades = max(0, (vehicle.age_years or 0) - SETTLED_YEARS) / 10
        wider = high + decades * self.each_decade + vehicle.finds * self.each_find
        return low, likely, max(high, min(wider, self.most))


@frozen(kw_only=True)
class Diagnosis:
    """The `[diagnosis]` table: a block, and on top of it for each wire or part found altered."""

    stands_in_a_file: ClassVar[bool] = True
    examples: ClassVar[Mapping[str, str]] = _Examples(block="[15, 20, 40]")
    block: Three
    each: Three = Factory(Minutes)


@frozen(kw_only=True)
class OwnFactors:
    """
    The `[own]` table: what a shop needs of the times in this file, by kind of work.

    Attributes:
        history: CSV of past jobs beside the file, from which the factors come; "" if they are said.
    """

    stands_in_a_file: ClassVar[bool] = True
    history: str = ""
    wiring: Own = 1.0
    fitting: Own = 1.0
    testing: Own = 1.0
    road_test: Own = 1.0
    diagnosis: Own = 1.0
    bench: Own = 1.0

    def of(self, work: str) -> float:
        """Factor on the times of a kind of work."""
        return float(getattr(self, work))


@frozen(kw_only=True)
class LabourTable:
    """How long each sort of work takes in one shop."""

    stands_in_a_file: ClassVar[bool] = True
    examples: ClassVar[Mapping[str, str]] = {
        name: f"[{name}]"
        for name in ("operations", "steps", "setting_up", "access", "old_vehicle", "diagnosis")
    }
    operations: OperationTimes
    parts: dict[str, PartTimes] = Factory(dict)
    steps: StepTimes
    setting_up: SettingUp
    access: Access
    old_vehicle: OldVehicle
    diagnosis: Diagnosis
    own: OwnFactors = Factory(OwnFactors)

    def taking_off(self, kind: str) -> Minutes:
        """Taking a part of that kind off. [min]"""
        return self.parts[kind].take_off if kind in self.parts else self.operations.take_off_part

    def fitting(self, kind: str) -> Minutes:
        """Fitting a part of that kind. [min]"""
        return self.parts[kind].fit if kind in self.parts else self.operations.fit_part


def read_labour_table(path: Path) -> LabourTable:
    """
    The times in a shop's file.

    Raises:
        ConfigurationError: the file cannot be read or is faulty; every fault, with line and column.
    """
    file = read_toml(path)
    read = structured(LabourTable, file)
    unknown = () if read.content is None else tuple(_unknown_names(read.content, file))
    table = sound(read.after(Loaded(None, unknown)))
    if not table.own.history:
        return table
    fitted: Mapping[str, Any] = fitted_factors(read_past_jobs(path.parent / table.own.history))
    return evolve(table, own=OwnFactors(history=table.own.history, **fitted))


@cache
def shipped_labour_table() -> LabourTable:
    """The times of `profiles/shop/labour.toml`."""
    return read_labour_table(shipped_folder("profiles") / "shop" / "labour.toml")


def _unknown_names(table: LabourTable, file: TomlFile) -> Iterator[Fault]:
    """Kinds and steps that do not exist: their times would never be used, and nobody would see."""
    known: tuple[tuple[tuple[str, ...], Iterable[str], Iterable[str]], ...] = (
        (("parts",), table.parts, kinds()),
        (("steps", "longer"), table.steps.longer, standing_step_ids()),
        (("steps", "each"), table.steps.each, standing_step_ids()),
    )
    for path, given, allowed in known:
        for name in set(given) - set(allowed):
            origin = Origin(file.name, (*path, name))
            subject = " ".join(path)
            yield Fault(origin, subject, f"unknown name {quoted(name)}", one_of(name, allowed))
