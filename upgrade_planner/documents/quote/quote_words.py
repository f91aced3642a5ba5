"""What a quotation says in plain words: the work, what the owner gains, what stays as it is."""

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from datetime import date

from attrs import frozen

from upgrade_planner.checks.findings import Finding, Severity
from upgrade_planner.comparison.part_changes import (
    PartChange,
    PartDisposition,
    PartExchanged,
)
from upgrade_planner.comparison.results import Comparison
from upgrade_planner.comparison.wire_changes import Disposition
from upgrade_planner.configuration.kinds import Family
from upgrade_planner.documents.words.findings import finding_words, title_words
from upgrade_planner.documents.words.quantities import counted
from upgrade_planner.planning.plan import Plan
from upgrade_planner.quote.options import Gain

_MONTHS = (
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
)


@frozen
class _Figure:
    """How a figure is told: words, unit, factor, digits, least change worth telling, better way."""

    words: str
    unit: str
    factor: float
    digits: int
    least: float
    better: int


_FIGURES = {
    "ignition supply, running": _Figure(
        "Voltage at the ignition, engine running", "V", 1, 1, 0.3, 0
    ),
    "ignition supply, cranking": _Figure(
        "Voltage at the ignition while starting", "V", 1, 1, 0.3, 1
    ),
    "stored energy at 1000 r/min": _Figure("Energy stored for each spark", "mJ", 1000, 0, 0.003, 1),
    "battery voltage, loads on": _Figure(
        "Battery voltage on the road, lamps on", "V", 1, 1, 0.2, 0
    ),
    "charging current, idling": _Figure(
        "Current into the battery, idling, lamps on", "A", 1, 1, 0.5, 1
    ),
    "charging current, loads on": _Figure(
        "Current into the battery on the road, lamps on", "A", 1, 1, 0.5, 0
    ),
    "output to spare, loads on": _Figure("Charging output to spare, lamps on", "A", 1, 0, 1.0, 1),
    "loss from output to battery, loads on": _Figure(
        "Voltage lost on the way to the battery", "V", 1, 2, 0.05, -1
    ),
    "hottest wire": _Figure("Hottest wire, on a hot day", "°C", 1, 0, 3.0, -1),
    "drain with the key off": _Figure("Current drawn with the key off", "A", 1, 3, 0.005, -1),
}
"""By subject of a Gain. Least changes worth telling a customer. Source: our assumption."""

_SETTLED = {
    "PROT-NONE": "Feed wires that had no fuse get one: a short circuit there could set the vehicle "
    "on fire.",
    "PROT-FUSE-BIG": "Fuses that were too large for their wires are made to fit.",
    "PROT-OUTPUT": "The charging wires become thick enough for what the generator can deliver.",
    "DROP-CURRENT": "Wires that carried more current than they may are renewed or relieved.",
    "DROP-HOT": "No wire gets hotter than its insulation stands.",
    "DROP-WIRE": "Wires that lost too much voltage are renewed or relieved.",
    "DROP-PATH": "Lamps and other loads get their full voltage.",
    "CHG-OUTPUT-DROP": "What the generator delivers reaches the battery.",
    "CHG-AMMETER": "The charging current no longer passes an ammeter that is too small for it.",
    "CHG-CAVITY": "The charging current no longer passes a connector that is too small for it.",
    "SIZE-MECHANICAL": "Wires too thin to last are renewed.",
    "IGN-BALLAST-BRIDGED": "The ignition coil is no longer overloaded by a bridged resistor.",
    "FUEL-RUNS": "The fuel pump is made to stop in an accident.",
    "STA-INTERLOCK": "A switch keeps the starter from turning with a gear engaged.",
    "GND-NO-PATH": "Missing ground connections are made good.",
}
"""By code of a finding: what is better without it. Not all codes; others are told by title."""


def date_words(day: date) -> str:
    """`2 March 2026`."""
    return f"{day.day} {_MONTHS[day.month - 1]} {day.year}"


_WITHOUT = {
    "points_distributor": "No contact points that wear and must be set.",
    "regulator_electromechanical": "No regulator contacts that burn and must be set.",
}
"""By kind of a part that goes: what the owner has no trouble with any more. Source: common
practice."""


# What will be done ------------------------------------------------------------------------------


def work_words(comparison: Comparison) -> tuple[str, ...]:
    """What happens to the vehicle, in sentences."""
    return (*_conversion(comparison), *_parts(comparison), *_wires(comparison), *_always())


def _conversion(comparison: Comparison) -> Iterator[str]:
    old, new = comparison.before.vehicle, comparison.after.vehicle
    if old.ground != new.ground:
        yield f"The vehicle is changed from {old.ground} to {new.ground} ground."
    if old.voltage_v != new.voltage_v:
        yield f"The vehicle is changed from {old.voltage_v:g} V to {new.voltage_v:g} V."


def _parts(comparison: Comparison) -> Iterator[str]:
    changes = [c for c in comparison.parts if not _is_joint(c)]
    for change in changes:
        if isinstance(change, PartExchanged):
            yield f"{change.before.name}: replaced by {_lower(change.after.name)}."
    for words, wanted in (
        ("New", PartDisposition.ADD),
        ("Taken out", PartDisposition.REMOVE),
        ("Moved to a better place", PartDisposition.RELOCATE),
        ("Made fit for the new supply", PartDisposition.CONVERT),
        ("New fuse ratings in", PartDisposition.ADJUST),
    ):
        names = [c.part.name for c in changes if c.disposition is wanted]
        if names:
            yield f"{words}: {_listed(names)}."


def _is_joint(change: PartChange) -> bool:
    return change.part.family is Family.JOINT


def _listed(names: Sequence[str]) -> str:
    first, *rest = names
    return "; ".join([first, *map(_lower, rest)])


def _lower(name: str) -> str:
    """A name inside a sentence; letters that stand for something stay as they are."""
    return name[:1].lower() + name[1:] if name[1:2].islower() else name


def _wires(comparison: Comparison) -> Iterator[str]:
    counts = [
        f"{number} {words}"
        for disposition, words in (
            (Disposition.ADD, "new"),
            (Disposition.RESIZE, "renewed in another size"),
            (Disposition.MOVE, "led to another terminal"),
            (Disposition.REMOVE, "taken out"),
            (Disposition.CAP_OFF, "out of use, left in the loom with insulated ends"),
        )
        if (number := comparison.count(disposition))
    ]
    if counts:
        yield f"Wires: {', '.join(counts)}; {comparison.count(Disposition.KEEP)} stay as they are."


def _always() -> Iterator[str]:
    yield (
        "Everything is photographed and labelled before, measured dead and live after, and tried "
        "on the road. You get the sheet with all measured values."
    )


# What the owner gains ---------------------------------------------------------------------------


@frozen(kw_only=True)
class Told:
    """One figure in words: `now` and `after` with unit, and `verdict`, "" where neither is
    better.
    """

    subject: str
    now: str
    after: str
    verdict: str


def gains_told(gains: Iterable[Gain]) -> tuple[Told, ...]:
    """The figures that change enough to be told, better or worse."""
    return tuple(told for gain in gains if (told := _told(gain)) is not None)


def _told(gain: Gain) -> Told | None:
    figure = _FIGURES[gain.subject]
    if gain.before is None or gain.after is None:
        return None
    if abs(gain.after - gain.before) < figure.least:
        return None
    rise = figure.better * (gain.after - gain.before)
    return Told(
        subject=figure.words,
        now=_value(gain.before, figure),
        after=_value(gain.after, figure),
        verdict="" if not figure.better else "better" if rise > 0 else "worse",
    )


def _value(value: float, figure: _Figure) -> str:
    number = f"{value * figure.factor:.{figure.digits}f}"
    if not float(number):
        number = number.lstrip("-")
    return f"{number.replace('-', chr(0x2212))} {figure.unit}"


def settled_words(plan: Plan) -> tuple[str, ...]:
    """What was a trouble or stood against the vehicle, and does not any more."""
    after = {f.code for f in plan.findings if f.severity is not Severity.NOTE}
    old = [f for f in plan.findings_before if f.severity is not Severity.NOTE]
    gone = [finding for finding in old if finding.code not in after]
    told = [_SETTLED.get(f.code, f"Put right: {_lower(title_words(f))}.") for f in gone]
    return tuple(dict.fromkeys([*told, *_without(plan.comparison)]))


def _without(comparison: Comparison) -> Iterator[str]:
    before, after = (
        {part.kind for part in side.components} for side in (comparison.before, comparison.after)
    )
    for kind, words in _WITHOUT.items():
        if kind in before and kind not in after:
            yield words


# What stays -------------------------------------------------------------------------------------


def left_words(findings: Sequence[Finding]) -> tuple[str, ...]:
    """Findings that stand afterwards, one sentence for each kind."""
    told = [(f.severity, finding_words(f, "metric")) for f in findings]
    counts = Counter((severity, words.title) for severity, words in told)
    first = {(severity, words.title): words.what for severity, words in reversed(told)}
    return tuple(
        f"{str(kind[0]).capitalize()}: {_lower(kind[1])}. {first[kind].replace('_', ' ')}"
        + (f" So at {counted(number - 1, 'other place')}." if number > 1 else "")
        for kind, number in counts.items()
    )


def left_count_words(findings: Iterable[Finding]) -> str:
    """`1 warning, 2 cautions`, or `none`."""
    counts = Counter(finding.severity for finding in findings)
    found = [counted(counts[s], str(s)) for s in Severity if counts[s]]
    return ", ".join(found) or "none"
