"""
Wire sizes in the three systems of the trade: SAE, AWG and mm².

SAE and AWG share their numbers but not their copper: SAE cable of sizes 18 to 2/0 holds 5 to 11 %
less, so `12 SAE` and `12 AWG` are two sizes. The standard sizes are in data/wire_sizes.csv.
"""

import re
from functools import cache

from attrs import field
from attrs.validators import gt, in_

from upgrade_planner.attributes import frozen
from upgrade_planner.configuration.files.own_data import data_rows
from upgrade_planner.configuration.values.notation import (
    NO_BREAK_SPACE,
    NotationError,
    shown_scalar,
)

SAE = "SAE"
AWG = "AWG"
METRIC = "mm²"
SYSTEMS = (SAE, AWG, METRIC)
NEAREST = 2  # how many standard sizes an error offers

_NUMBER = r"(?:\d+/0|\d+(?:\.\d+)?)"
_SIZE = re.compile(rf"({_NUMBER})\s?(SAE|AWG|mm²|mm2)", re.ASCII | re.IGNORECASE)
_SYSTEM_FIRST = re.compile(rf"(SAE|AWG|mm²|mm2)\s?({_NUMBER})", re.ASCII | re.IGNORECASE)
_NO_SYSTEM = re.compile(rf"({_NUMBER})\s?(?:ga|gauge|g)?", re.ASCII | re.IGNORECASE)
_TRADE_MM = re.compile(rf"({_NUMBER})\s?mm", re.ASCII | re.IGNORECASE)
_DECIMAL_COMMA = re.compile(r"(\d+),(\d+)\s?(?:mm²|mm2)?", re.ASCII | re.IGNORECASE)
_EXPECTED = "a size with its system, e.g. 12 SAE, 12 AWG or 3 mm²"


class WireSizeError(NotationError):
    """A text that is no standard wire size."""


@frozen(kw_only=True, order=True)
class WireSize:
    """
    One standard size. Sizes are ordered by area, whatever their system.

    Attributes:
        system: `SAE`, `AWG` or `mm²`.
        designation: The size in that system: `12`, `2/0`, `2.5`.
        area_mm2: Nominal area of the copper. [mm²]
    """

    system: str = field(validator=in_(SYSTEMS), order=False)
    designation: str = field(order=False)
    area_mm2: float = field(validator=gt(0))

    @property
    def label(self) -> str:
        """As printed, with a no-break space: `12 AWG`."""
        return f"{self.designation}{NO_BREAK_SPACE}{self.system}"


@cache
def sizes_in(system: str) -> tuple[WireSize, ...]:
    """
    The standard sizes of a system, smallest first.

    Raises:
        ValueError: There is no such system.
    """
    if system not in SYSTEMS:
        raise ValueError(f"a size system is wanted ({', '.join(SYSTEMS)}), found {system}")
    rows = data_rows(__package__, "wire_sizes.csv")
    return tuple(sorted(_size(row) for row in rows if row["system"] == system))


def _size(row: dict[str, str]) -> WireSize:
    area_mm2 = float(row["area_mm2"])
    return WireSize(system=row["system"], designation=row["designation"], area_mm2=area_mm2)


@frozen
class Automatic:
    """In place of a size that `electrical.sizing` chooses; it has no area to compute with."""


AUTOMATIC = Automatic()


def size_text(size: WireSize | Automatic) -> str:
    """
    A size as profiles write it, with a plain space.

    Example:
        >>> size_text(AUTOMATIC)
        'auto'
    """
    return "auto" if isinstance(size, Automatic) else f"{size.designation} {size.system}"


OR = " or "
"""Stands between the sizes of one wire in several size systems: `12 SAE or 4 mm²`."""


@frozen
class SizeChoice:
    """Sizes of one wire, one for each size system that a vehicle may have; mostly a single one."""

    options: tuple[WireSize | Automatic, ...]

    def index_in(self, system: str) -> int | None:
        """Number of the option for a vehicle of that size system; None if there is none."""
        if len(self.options) == 1:
            return 0
        systems = [option.system for option in self.options if isinstance(option, WireSize)]
        return systems.index(system) if system in systems else None


def parse_size_choice(text: object) -> SizeChoice:
    """
    One size, `auto`, or one size for each of several systems: `12 SAE or 4 mm²`.

    Raises:
        WireSizeError: as at `parse_wire_size`, or two options are of one system.

    Example:
        >>> parse_size_choice("12 SAE or 4 mm²").index_in("mm²")
        1
    """
    if not isinstance(text, str):
        return SizeChoice((parse_wire_size(text),))
    parts = [part.strip() for part in text.split(OR)]
    if parts == ["auto"]:
        return SizeChoice((AUTOMATIC,))
    options = tuple(parse_wire_size(part) for part in parts if part != "auto")
    if len({option.system for option in options}) < len(parts):
        raise WireSizeError(shown_scalar(text), "one size for each size system: 12 SAE or 4 mm²")
    return SizeChoice(options)


def parse_wire_size(text: object) -> WireSize:
    """
    The standard size that a text such as `12 AWG`, `2/0 SAE` or `3 mm2` names.

    Raises:
        WireSizeError: The text states no system or no standard size, or is not a text at all.

    Example:
        >>> parse_wire_size("12 SAE").area_mm2 < parse_wire_size("12 AWG").area_mm2
        True
    """
    if not isinstance(text, str):
        raise WireSizeError(shown_scalar(text), 'a wire size in quotes, e.g. "12 AWG"')
    plain = " ".join(text.split())
    match = _SIZE.fullmatch(plain)
    if match is None:
        raise _malformed(plain, text)
    designation, system = match[1], _system(match[2])
    for size in sizes_in(system):
        if size.designation == designation or _same_area(size, designation):
            return size
    raise WireSizeError(
        shown_scalar(text), f"a standard {system} size", _nearest(designation, system)
    )


def _system(word: str) -> str:
    return METRIC if word.lower() in ("mm²", "mm2") else word.upper()


def _same_area(size: WireSize, designation: str) -> bool:
    """Whether `3.0` means the size called `3`; gauge numbers have no decimals."""
    return size.system == METRIC and "/" not in designation and float(designation) == size.area_mm2


def _nearest(designation: str, system: str) -> list[str]:
    """Plain labels of the standard sizes beside a size that does not exist."""
    wanted = _scale(designation, system)

    def distance(size: WireSize) -> float:
        return abs(_scale(size.designation, system) - wanted)

    closest = sorted(sizes_in(system), key=distance)[:NEAREST]
    return [f"{size.designation} {size.system}" for size in closest]


def _scale(designation: str, system: str) -> float:
    """Position of a size on the scale of its system: area, or gauge number (1/0 is 0, 2/0 -1)."""
    if "/" in designation:
        return 1 - float(designation.removesuffix("/0"))
    if system != METRIC and not designation.strip("0"):
        return 1 - len(designation)  # 0, 00 and 000 are older ways to write 1/0, 2/0 and 3/0
    return float(designation)


def _malformed(plain: str, text: str) -> WireSizeError:
    if match := _NO_SYSTEM.fullmatch(plain):
        named = [f"{match[1]} {system}" for system in SYSTEMS if _is_standard(match[1], system)]
        expected = (
            "the size system too: SAE, AWG and mm² are different sizes "
            "(12 SAE holds less copper than 12 AWG)"
        )
        return WireSizeError(f"{shown_scalar(text)} without a size system", expected, named)
    if match := _TRADE_MM.fullmatch(plain):
        # Cable list of the Australian and New Zealand trade: 4 mm cable is 23/0.32 = 1.84 mm².
        expected = (
            "an area in mm²; trade sizes in mm name the outside (4 mm cable: 1.84 mm² copper)"
        )
        return WireSizeError(f"{shown_scalar(text)}, a length", expected)
    if match := _DECIMAL_COMMA.fullmatch(plain):
        expected = f"a decimal point: write {match[1]}.{match[2]} {METRIC}"
        return WireSizeError(f"{shown_scalar(text)} with a comma", expected)
    if match := _SYSTEM_FIRST.fullmatch(plain):
        written = f"{match[2]} {_system(match[1])}"
        return WireSizeError(shown_scalar(text), f"the number before the system: write {written}")
    return WireSizeError(shown_scalar(text), _EXPECTED)


def _is_standard(designation: str, system: str) -> bool:
    return any(size.designation == designation for size in sizes_in(system))


def gauge_number(size: WireSize) -> int | None:
    """
    The gauge as a number to count with: 12 is 12, 1/0 is 0, 2/0 is -1; None for mm².

    Example:
        >>> gauge_number(parse_wire_size("2/0 AWG"))
        -1
    """
    return None if size.system == METRIC else int(_scale(size.designation, size.system))


def gauge_steps_smaller(size: WireSize, steps: int) -> WireSize | None:
    """
    The size of the same system whose gauge number is `steps` higher, so thinner.

    None if the system has no standard size of that number, and for mm², which has no gauges. A
    fusible link is four gauge numbers smaller than the wire it protects (common practice; reader
    letter in an electrical newsletter: 18 protects 14, 16 protects 12, 14 protects 10).

    Raises:
        ValueError: `steps` is negative.

    Example:
        >>> gauge_steps_smaller(parse_wire_size("10 AWG"), 4).designation
        '14'
    """
    if steps < 0:
        raise ValueError(f"zero steps or more are wanted, found {steps}")
    number = gauge_number(size)
    if number is None:
        return None
    same_system = sizes_in(size.system)
    return next((item for item in same_system if gauge_number(item) == number + steps), None)


def other_system_label(size: WireSize, system: str) -> str:
    """
    The standard size of another system with the nearest area, for print beside the first.

    Its own label if the size is of that system already.

    Example:
        >>> other_system_label(parse_wire_size("10 SAE"), "mm²").replace(NO_BREAK_SPACE, " ")
        'about 5 mm²'
    """
    if size.system == system:
        return size.label
    nearest = min(sizes_in(system), key=lambda other: abs(other.area_mm2 - size.area_mm2))
    return f"about {nearest.label}"
