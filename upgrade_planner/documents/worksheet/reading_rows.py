"""Readings in words: where the leads go, what to expect, what to look at; and the same as data."""

from collections.abc import Iterable
from math import ceil, floor

from upgrade_planner.configuration.kinds import Family
from upgrade_planner.configuration.model import Configuration, Joint
from upgrade_planner.documents.words.standing import ReadingWords, reading_words
from upgrade_planner.documents.words.wording import (
    IN_DATA,
    NBSP,
    mark_words,
    place_beside,
    role_words,
)
from upgrade_planner.documents.worksheet.reading_shape import (
    ExpectationData,
    LimitData,
    ProbesData,
    RangeData,
    ReadingData,
    SuspectData,
)
from upgrade_planner.electrical.models.context import ref_of
from upgrade_planner.planning.plan import Plan
from upgrade_planner.planning.standing_data import Limit, Reading
from upgrade_planner.readings.expecting import Expectation, SideReading
from upgrade_planner.readings.points import Probe
from upgrade_planner.readings.predicting import Range
from upgrade_planner.readings.suspecting import Suspect

NOT_MEASURABLE = "not measurable"
NOT_COMPUTED = "not computed"


def leads(
    side: SideReading, configuration: Configuration, placed: set[str] | None = None
) -> tuple[str, str]:
    """Where the red and the black lead go; empty if the reading cannot be taken."""
    if side.placed is None:
        return "", ""
    told = set() if placed is None else placed
    red, black = side.placed.red, side.placed.black
    return lead_words(red, configuration, told), lead_words(black, configuration, told)


def lead_words(probe: Probe, configuration: Configuration, told: set[str]) -> str:
    """One lead: part, terminal, place unless it was told; the battery needs no place."""
    if probe.ref is None:
        return f"bare metal of the {ref_of(probe.node).terminal}"
    part = configuration.component(probe.ref.role)
    terminal = terminal_at(probe, configuration)
    if part.family is Family.BATTERY or part.role in told:
        return terminal
    told.add(part.role)
    return f"{terminal}, {place_beside(configuration.place_of(probe.ref), part)}"


def terminal_at(probe: Probe, configuration: Configuration) -> str:
    """Part and terminal without the place; battery posts by what they are for."""
    if probe.ref is None:
        return f"bare metal of the {ref_of(probe.node).terminal}"
    part = configuration.component(probe.ref.role)
    terminal = part.terminal(probe.ref.terminal)
    label = mark_words(terminal) if terminal else role_words(probe.ref.terminal)
    label = label.replace(" ", NBSP)
    role = role_words(part.role)
    if part.family is Family.BATTERY:
        is_grounded = probe.ref.terminal == configuration.vehicle.ground
        return f"{role} {'grounded' if is_grounded else 'live'} post {label}"
    if terminal and terminal.connection.joint is Joint.CASE:
        return f"{role} {label}"
    return f"{role} terminal {label}" if label else role


def side_words(side: SideReading) -> str:
    """The expected range, or why there is none."""
    if side.placed is None:
        return NOT_MEASURABLE
    return range_words(side.expected) if side.expected else NOT_COMPUTED


def range_words(expected: Range) -> str:
    """
    The range as a meter shows it, rounded outwards.

    Example:
        >>> range_words(Range(0.021, 0.05, 0.078)).replace(NBSP, " ")
        '0.02 to 0.08 V'
        >>> range_words(Range(12.58, 12.8, 13.04)).replace(NBSP, " ")
        '12.5 to 13.1 V'
    """
    digits = 2 if max(abs(expected.low_v), abs(expected.high_v)) < 1 else 1
    scale = 10**digits
    low = floor(expected.low_v * scale + 1e-6) / scale
    high = ceil(expected.high_v * scale - 1e-6) / scale
    if low == high:
        return f"{_number(low, digits)}{NBSP}V" if low else f"0{NBSP}V"
    return f"{_number(low, digits)} to {_number(high, digits)}{NBSP}V"


def _number(value: float, digits: int) -> str:
    return f"{value:.{digits}f}".replace("-", "\N{MINUS SIGN}")


def outside_words(
    words: ReadingWords, suspects: Iterable[Suspect], configuration: Configuration
) -> str:
    """What to look at if the meter shows another value."""
    named = _to_look_at(words, suspects, configuration)
    return " ".join(f"Too {way}: {'; '.join(found)}." for way, found in named.items() if found)


def _to_look_at(
    words: ReadingWords, suspects: Iterable[Suspect], configuration: Configuration
) -> dict[str, list[str]]:
    """What to look at if the meter shows too little, or too much: wiring first, then the rest."""
    named: dict[str, list[str]] = {"low": [], "high": []}
    for suspect in suspects:
        named[suspect.direction].append(suspect_words(suspect, configuration))
    named["low"] += words.low
    named["high"] += words.high
    return named


def suspect_words(suspect: Suspect, configuration: Configuration) -> str:
    """A wire or a ground, and whether it is open or has a bad joint."""
    what = f"wire {suspect.wire}" if suspect.wire else _ground_words(suspect.part, configuration)
    if suspect.is_open and suspect.is_joint:
        return what
    return f"{what} ({'open' if suspect.is_open else 'bad joint'})"


def _ground_words(role: str, configuration: Configuration) -> str:
    is_point = configuration.component(role).family is Family.GROUND_POINT
    return f"{role_words(role)} bolt" if is_point else f"ground of {role_words(role)}"


def readings_data(plan: Plan) -> list[ReadingData]:
    """The readings as data, with the inputs of every printed figure."""
    return [_datum(reading, plan) for reading in plan.readings]


def _datum(reading: Reading, plan: Plan) -> ReadingData:
    expectation = plan.expected[reading.id]
    after = plan.comparison.after
    red, black = leads(expectation.after, after)
    words = reading_words(reading, IN_DATA)
    named = _to_look_at(words, expectation.suspects, after)
    return {
        "id": reading.id,
        "state": words.condition,
        "red": red,
        "black": black,
        **limit_data(reading, words),
        "if_not": outside_words(words, expectation.suspects, after),
        "look_if_low": named["low"],
        "look_if_high": named["high"],
        **expectation_data(expectation),
    }


def limit_data(reading: Reading, words: ReadingWords) -> LimitData:
    """
    The limit of a reading: numbers, unit, what it is compared with, as printed, source.

    A limit that changes with temperature has the others in a list, each at its own.
    """
    limit = reading.limit or Limit()
    return {
        "limit": words.limit,
        "min": limit.min_v,
        "max": limit.max_v,
        "unit": reading.unit,
        "at_a": limit.at_a,
        "at_c": limit.at_c,
        "others": [{"min": o.min_v, "max": o.max_v, "at_c": o.at_c} for o in limit.others],
        "compared_with": limit.compared_with or None,
        "source": words.source,
    }


def expectation_data(expectation: Expectation) -> ExpectationData:
    """Operating state, probes, ranges and suspects of one reading."""
    return {
        "operating_state": expectation.point.state,
        "probes": _probes(expectation.after),
        "probes_before": _probes(expectation.before),
        "before": range_data(expectation.before.expected),
        "after": range_data(expectation.after.expected),
        "suspects": [_suspect(suspect) for suspect in expectation.suspects],
    }


def _probes(side: SideReading) -> ProbesData | None:
    if side.placed is None:
        return None
    return {"red": side.placed.red.node, "black": side.placed.black.node}


def range_data(expected: Range | None) -> RangeData | None:
    """Low, nominal and high of a range; None stands for none."""
    if expected is None:
        return None
    return {
        "low_v": round(expected.low_v, 4) + 0.0,
        "nominal_v": round(expected.nominal_v, 4) + 0.0,
        "high_v": round(expected.high_v, 4) + 0.0,
    }


def _suspect(suspect: Suspect) -> SuspectData:
    return {
        "direction": suspect.direction,
        "wire": suspect.wire or None,
        "ground_of": suspect.part or None,
        "open": suspect.is_open,
        "bad_joint": suspect.is_joint,
        "moved_to_v": round(suspect.moved_to_v, 4) + 0.0,
    }
