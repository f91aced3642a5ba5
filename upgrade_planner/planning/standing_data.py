"""
Standing steps, readings and messages about danger that a job has, read from data.

They are values: what they say is found in `documents/words` by their id.
"""

import tomllib
from collections.abc import Iterable, Iterator, Mapping
from functools import cache
from pathlib import Path
from typing import Any

from attrs import field

from upgrade_planner.attributes import frozen
from upgrade_planner.configuration.model import Configuration
from upgrade_planner.configuration.values.measures import (
    Quantity,
    ampere,
    celsius,
    metre,
    newton,
    rpm,
    second,
    volt,
    watt,
)
from upgrade_planner.configuration.values.quantities import Dimension
from upgrade_planner.planning.fact_values import Facts
from upgrade_planner.planning.operations import LEADS, Held, Judged, Phase, Procedure, Work
from upgrade_planner.readings.points import ReadingPoint, placed

_DATA = Path(__file__).parent / "data"

JOB = "job"
"""Stands among the phases of a message that is read before the first of them."""

COMPUTED = "expected range: computed"
"""Source of a reading for which nobody publishes a limit."""

_FIGURES = {
    "lengths_m": metre,
    "voltages_v": volt,
    "currents_a": ampere,
    "powers_w": watt,
    "times_s": second,
    "temperatures_c": celsius,
    "speeds_rpm": rpm,
    "forces_n": newton,
}


@frozen(kw_only=True)
class Hazard:
    """
    A message about danger; severity is data, not the template's choice.

    Attributes:
        word: DANGER, WARNING, CAUTION, NOTICE.
        phases: Letters of the phases at whose head it stands; `JOB` is before all of them.
        facts: What its sentences may name.
    """

    id: str
    word: str
    phases: tuple[str, ...]
    facts: Facts = field(factory=dict, hash=False)
    source: str


@frozen(kw_only=True)
class Limit:
    """
    What a published source allows.

    Attributes:
        min_v: The least voltage; None where there is none. [V]
        max_v: The highest, likewise. [V]
        at_a: The current at which it holds, None at any. [A]
        compared_with: `battery` where the voltage between its posts at that moment is the limit.
        at_c: The temperature at which it holds, None at any. [°C]
        others: The same limit at other temperatures.
    """

    min_v: float | None = None
    max_v: float | None = None
    at_a: float | None = None
    compared_with: str = ""
    at_c: float | None = None
    others: tuple["Limit", ...] = ()


@frozen(kw_only=True)
class Reading:
    """
    One value to measure after the work, with its published limit.

    Attributes:
        group: Rows of the test table that one step takes: key-on, cranking, running.
        point: Probes and operating state.
        limit: None where no source gives one for this voltage.
        facts: What its sentences may name.
        source: Of the limit, or of the range; it may name facts, too.
    """

    id: str
    group: str
    point: ReadingPoint
    limit: Limit | None
    unit: str
    facts: Facts = field(factory=dict, hash=False)
    source: str


@frozen(kw_only=True)
class StandingStep:
    """A standing step with its position among the operations of its phase."""

    side: str
    order: int
    role: str
    procedure: Procedure


@cache
def _entries(file: str, key: str) -> tuple[dict[str, Any], ...]:
    data = tomllib.loads((_DATA / file).read_text(encoding="utf-8"))
    return tuple(data[key])


def hazards(facts: Facts) -> tuple[Hazard, ...]:
    """The messages that apply to a job, gravest first."""
    gravity = ["DANGER", "WARNING", "CAUTION", "NOTICE"]
    found = [
        Hazard(
            id=entry["id"],
            word=entry["word"],
            phases=tuple(p if p == JOB else str(Phase[p]) for p in entry["phases"]),
            facts=_named(entry, facts),
            source=entry["source"],
        )
        for entry in _applying("hazards.toml", "hazard", facts)
    ]
    return tuple(sorted(found, key=lambda hazard: gravity.index(hazard.word)))


def readings(facts: Facts, after: Configuration) -> tuple[Reading, ...]:
    """The readings that can be taken in the configuration after the work."""
    groups = ["key-on", "cranking", "running"]
    found = [_reading(entry, facts) for entry in _applying("readings.toml", "reading", facts)]
    taken = [reading for reading in found if placed(reading.point, after) is not None]
    return tuple(sorted(taken, key=lambda reading: groups.index(reading.group)))


def _reading(entry: dict[str, Any], facts: Facts) -> Reading:
    own = entry if facts["twelve_volt"] else {}
    published = next((x for x in entry.get("instead", ()) if facts[x["when"]]), own)
    return Reading(
        id=entry["id"],
        group=entry["group"],
        point=ReadingPoint(
            id=entry["id"],
            state=entry["state"],
            live_side=tuple(entry["live"]),
            ground_side=tuple(entry["ground"]),
        ),
        limit=_limit(published["limit"]) if "limit" in published else None,
        unit="V",
        facts=_named(entry, facts),
        source=published.get("source", COMPUTED),
    )


def _limit(entry: Mapping[str, Any]) -> Limit:
    others = tuple(_limit(other) for other in entry.get("others", ()))
    return Limit(**{**entry, "others": others})


def standing_step_ids() -> tuple[str, ...]:
    """Names of all standing steps, whatever the job."""
    return tuple(entry["id"] for entry in _entries("procedures.toml", "procedure"))


def standing_steps(facts: Facts, phases: Iterable[Phase]) -> tuple[StandingStep, ...]:
    """The standing steps that apply, for the phases asked for."""
    wanted = set(phases)
    steps = [
        StandingStep(
            side=entry["side"],
            order=entry["order"],
            role=entry.get("place", "").format_map(facts),
            procedure=Procedure(
                id=f"procedure:{entry['id']}",
                phase=Phase[entry["phase"]],
                place="",
                work=Work(entry.get("work", Work.TEST)),
                code=entry["id"],
                is_standing=True,
                reading_group=entry.get("reading_group", ""),
                facts=_named(entry, facts),
                unit=entry.get("unit", ""),
                judged=tuple(
                    _judged(item, _named(entry, facts)) for item in entry.get("judged", ())
                ),
                hold=entry.get("hold", False),
                source=entry.get("source", ""),
            ),
        )
        for entry in _applying("procedures.toml", "procedure", facts)
        if Phase[entry["phase"]] in wanted
    ]
    return tuple(sorted(steps, key=lambda s: (s.procedure.phase, s.side, s.order)))


def _judged(item: dict[str, Any], facts: Facts) -> Judged:
    of = item.get("of", "")
    if of in ("", LEADS):
        return Judged(Held(item["is"]), value=item.get("value"), of=of)
    figure = facts[of]
    assert isinstance(figure, Quantity), of
    return Judged(Held(item["is"]), value=figure.number)


def _applying(file: str, key: str, facts: Facts) -> Iterator[dict[str, Any]]:
    for entry in _entries(file, key):
        conditions = (entry.get("when", ()), entry.get("touches", ()))
        if all(not names or any(facts[name] for name in names) for names in conditions):
            yield entry


def _named(entry: Mapping[str, Any], facts: Facts) -> Facts:
    """The facts of the job and the figures of one entry."""
    figures = {
        name: made(number)
        for key, made in _FIGURES.items()
        for name, number in entry.get(key, {}).items()
    }
    if not figures:
        return facts
    lowered = {
        name: highest
        for name, figure in figures.items()
        if isinstance(highest := facts["highest_speed"], Quantity)
        and figure.dimension is Dimension.SPEED
        and figure.number > highest.number
    }
    return {**facts, **figures, **lowered, "speed_is_lowered": bool(lowered)}
