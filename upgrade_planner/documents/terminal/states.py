"""A configuration in its operating states, for the terminal and as data."""

from collections.abc import Iterator

from upgrade_planner.attributes import frozen
from upgrade_planner.configuration.model import Configuration
from upgrade_planner.documents.shared.data_text import data_text
from upgrade_planner.documents.terminal.list_shapes import (
    READINGS,
    ReadingsData,
    StateData,
    StateReadingData,
)
from upgrade_planner.documents.words.standing import reading_words
from upgrade_planner.documents.words.wording import IN_DATA
from upgrade_planner.documents.worksheet.reading_rows import (
    NOT_COMPUTED,
    lead_words,
    limit_data,
    range_data,
    range_words,
    terminal_at,
)
from upgrade_planner.electrical.operating_points import SAME_DIGITS, OperatingPoint
from upgrade_planner.planning.standing_data import Reading
from upgrade_planner.planning.state_readings import Survey
from upgrade_planner.readings.points import placed, probe_of

MAIN_PROBES = (
    "battery.live",
    "main_junction.stud",
    "distributor.supply",
    "coil.feed",
    "alternator.output",
    "alternator.lamp",
    "regulator.lamp",
    "starter.solenoid",
    "metal.engine",
    "metal.body",
)
"""Where voltages are worth a line in every state."""

LEAST_SHOWN_A = 0.05
"""Wires with less current are left out of the table; the data has them all. [A]"""

LEAST_CLAMPED_A = 1.0
"""Current that a clamp meter shows well. Source: common practice. [A]"""


@frozen(kw_only=True)
class WireStateRow:
    """Current, drop and temperature of one wire in one state."""

    wire: str
    current_a: float
    drop_v: float
    temperature_c: float


def main_voltages(point: OperatingPoint) -> Iterator[tuple[str, str, float | None]]:
    """Probe, its words, its voltage against the grounded battery post. [V]"""
    for name in MAIN_PROBES:
        probe = probe_of(name, point.configuration)
        if probe is not None:
            words = terminal_at(probe, point.configuration)
            yield probe.node, words, point.node_v(probe.node)


def wire_rows(point: OperatingPoint, least_a: float = 0.0) -> list[WireStateRow]:
    """Wires by size of their current; those whose currents differ by rounding only, by id."""
    rows = [
        WireStateRow(
            wire=wire.id,
            current_a=point.wire_current_a(wire.id),
            drop_v=point.wire_drop_v(wire),
            temperature_c=point.temperature_c[wire.id],
        )
        for wire in point.configuration.wires
        if abs(point.wire_current_a(wire.id)) >= least_a
    ]
    return sorted(rows, key=lambda row: (-round(abs(row.current_a), SAME_DIGITS), row.wire))


def reading_row(reading: Reading, survey: Survey) -> tuple[str, str, str]:
    """Leads, expected range, limit: in words."""
    red, black = _lead_pair(reading, survey.configuration)
    expected = survey.expected.get(reading.id)
    words = range_words(expected) if expected else NOT_COMPUTED
    return f"red lead: {red}; black lead: {black}", words, reading_words(reading, IN_DATA).limit


def _lead_pair(reading: Reading, configuration: Configuration) -> tuple[str, str]:
    at = placed(reading.point, configuration)
    assert at is not None, "only readings that can be taken are surveyed"
    told: set[str] = set()
    return lead_words(at.red, configuration, told), lead_words(at.black, configuration, told)


def survey_json(survey: Survey) -> str:
    """The survey as JSON text."""
    configuration = survey.configuration
    data: ReadingsData = {
        "configuration": configuration.name,
        "digest": configuration.digest,
        "ground": configuration.vehicle.ground,
        "states": [
            _state(state.name, state.title, point) for state, point in survey.points.items()
        ],
        "readings": [_reading(reading, survey) for reading in survey.readings],
    }
    return data_text(READINGS, data)


def _state(name: str, title: str, point: OperatingPoint | None) -> StateData:
    if point is None:
        return {"state": name, "title": title, "solved": False}
    return {
        "state": name,
        "title": title,
        "solved": True,
        "settled": point.settled,
        "voltages": [
            {"probe": node, "words": words, "live_v": None if v is None else _rounded(v)}
            for node, words, v in main_voltages(point)
        ],
        "wires": [
            {
                "wire": row.wire,
                "current_a": _rounded(row.current_a),
                "drop_v": _rounded(row.drop_v),
                "temperature_c": round(row.temperature_c, 1),
            }
            for row in wire_rows(point)
        ],
    }


def _reading(reading: Reading, survey: Survey) -> StateReadingData:
    at = placed(reading.point, survey.configuration)
    red, black = _lead_pair(reading, survey.configuration)
    words = reading_words(reading, IN_DATA)
    return {
        "id": reading.id,
        "operating_state": reading.point.state,
        "state": words.condition,
        "red": red,
        "black": black,
        "probes": {"red": at.red.node, "black": at.black.node} if at else None,
        "expected": range_data(survey.expected.get(reading.id)),
        **limit_data(reading, words),
    }


def _rounded(value: float) -> float:
    """To a tenth of a millivolt or milliampere; no minus before zero."""
    return round(value, 4) + 0.0
