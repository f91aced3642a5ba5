"""Standing steps, readings and messages about danger, read from data and filled with facts."""

import tomllib
from collections.abc import Iterable, Iterator
from functools import cache
from pathlib import Path
from typing import Any

from attrs import frozen

from upgrade_planner.configuration.model import Configuration
from upgrade_planner.planning.facts import Facts
from upgrade_planner.planning.operations import LEADS, Held, Judged, Phase, Procedure, Work
from upgrade_planner.readings.points import ReadingPoint, placed

_DATA = Path(__file__).parent / "data"
_TEXTS = (
    "instruction",
    "expected",
    "if_not",
    "limit",
    "condition",
    "causes",
    "place",
    "hazard",
    "avoid",
    "if_it_happens",
)
_NO_LIMIT = "none published"


@frozen(kw_only=True)
class Hazard:
    """A message about danger; severity is data, not the template's choice."""

    id: str
    word: str
    hazard: str
    avoid: str
    if_it_happens: str
    phases: tuple[str, ...]
    source: str


@frozen(kw_only=True)
class Reading:
    """
    One value to measure after the work, with its published limit.

    Attributes:
        group: Rows of the test table that one step takes: key-on, cranking, running.
        condition: How a person brings the state about, as printed.
        point: Probes and operating state.
        limit: In words; "none published" where no source gives one for this voltage.
        causes: What may be wrong besides the wiring.
    """

    id: str
    group: str
    condition: str
    point: ReadingPoint
    limit: str
    unit: str
    causes: str
    source: str

    @property
    def has_limit(self) -> bool:
        """True if a source gives a limit."""
        return not self.limit.startswith(_NO_LIMIT)


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
            hazard=entry["hazard"],
            avoid=entry["avoid"],
            if_it_happens=entry.get("if_it_happens", ""),
            phases=tuple(entry["phases"]),
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
    limit, source = entry["limit"], entry["source"]
    if not facts["twelve_volt"]:
        limit = f"{_NO_LIMIT} for {facts['system_voltage']}"
        source = "expected range: computed"
    return Reading(
        id=entry["id"],
        group=entry["group"],
        condition=entry["condition"],
        point=ReadingPoint(
            id=entry["id"],
            state=entry["state"],
            live_side=tuple(entry["live"]),
            ground_side=tuple(entry["ground"]),
        ),
        limit=limit,
        unit="V",
        causes=entry.get("causes", ""),
        source=source,
    )


def standing_step_ids() -> tuple[str, ...]:
    """Names of all standing steps, whatever the job."""
    return tuple(entry["id"] for entry in _entries("procedures.toml", "procedure"))


def standing_steps(facts: Facts, phases: Iterable[Phase]) -> tuple[StandingStep, ...]:
    """The standing steps that apply, for the phases asked for."""
    wanted = {str(phase) for phase in phases}
    steps = [
        StandingStep(
            side=entry["side"],
            order=entry["order"],
            role=entry.get("place", ""),
            procedure=Procedure(
                id=f"procedure:{entry['id']}",
                phase=Phase(entry["phase"]),
                place="",
                work=Work(entry.get("work", Work.TEST)),
                standing=entry["id"],
                reading_group=entry.get("reading_group", ""),
                instruction=entry["instruction"],
                details=tuple(entry.get("details", ())),
                expected=entry.get("expected", ""),
                unit=entry.get("unit", ""),
                judged=tuple(_judged(item, facts) for item in entry.get("judged", ())),
                hold=entry.get("hold", False),
                if_not=entry.get("if_not", ""),
                source=entry.get("source", ""),
            ),
        )
        for entry in _applying("procedures.toml", "procedure", facts)
        if entry["phase"] in wanted
    ]
    return tuple(sorted(steps, key=lambda s: (s.procedure.phase, s.side, s.order)))


def _judged(item: dict[str, Any], facts: Facts) -> Judged:
    of = item.get("of", "")
    if of in ("", LEADS):
        return Judged(Held(item["is"]), value=item.get("value"), of=of)
    return Judged(Held(item["is"]), value=float(facts[of]))


def _applying(file: str, key: str, facts: Facts) -> Iterator[dict[str, Any]]:
    for entry in _entries(file, key):
        when = entry.get("when", ())
        if not when or any(facts[name] for name in when):
            yield _filled(entry, facts)


def _filled(entry: dict[str, Any], facts: Facts) -> dict[str, Any]:
    filled = dict(entry)
    for name in _TEXTS:
        if name in filled:
            filled[name] = filled[name].format_map(facts)
    filled["details"] = [text.format_map(facts) for text in filled.get("details", ())]
    return filled
