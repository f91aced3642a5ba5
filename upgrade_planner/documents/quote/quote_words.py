"""What a quotation says in plain words: the work, what the owner gains, what stays as it is."""

from calendar import month_name
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from datetime import date

from attrs import evolve

from upgrade_planner.attributes import frozen
from upgrade_planner.checks.findings import Fact, Finding, Severity, Subject
from upgrade_planner.comparison.part_changes import (
    PartChange,
    PartDisposition,
    PartExchanged,
)
from upgrade_planner.comparison.results import Comparison
from upgrade_planner.comparison.wire_changes import Disposition
from upgrade_planner.configuration.kinds import Family
from upgrade_planner.configuration.values.measures import Quantity
from upgrade_planner.configuration.values.quantities import unit_inside
from upgrade_planner.documents.shared.data_text import computed_number
from upgrade_planner.documents.words.findings import finding_words, title_words
from upgrade_planner.documents.words.quantities import counted, quantity_words
from upgrade_planner.documents.words.wording import role_words, sentence
from upgrade_planner.planning.plan import Plan
from upgrade_planner.quote.gains import FIGURES, Gain, Verdict
from upgrade_planner.quote.remarks import findings_settled

_FIGURES = {
    "ignition supply, running": ("Voltage at the ignition, engine running", ".1f", "V"),
    "ignition supply, cranking": ("Voltage at the ignition while starting", ".1f", "V"),
    "stored energy at 1000 r/min": ("Energy stored for each spark", ".0f", "mJ"),
    "battery voltage, loads on": ("Battery voltage on the road, lamps on", ".1f", "V"),
    "charging current, idling": ("Current into the battery, idling, lamps on", ".1f", "A"),
    "charging current, loads on": ("Current into the battery on the road, lamps on", ".1f", "A"),
    "output to spare, loads on": ("Charging output to spare, lamps on", ".0f", "A"),
    "loss from output to battery, loads on": (
        "Voltage lost on the way to the battery",
        ".2f",
        "V",
    ),
    "hottest wire": ("Hottest wire, on a hot day", ".0f", "°C"),
    "drain with the key off": ("Current drawn with the key off", ".3f", "A"),
}
"""By subject of a Gain: what it is called, how its number is written, and in which unit."""

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
    return f"{day.day} {month_name[day.month]} {day.year}"


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
        ("Rebuilt with other insides, stays", PartDisposition.REBUILD),
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
            (Disposition.RENEW, "renewed in the same size"),
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
    """
    One figure.

    Attributes:
        now, after: In words, with unit.
        now_number, after_number: In `unit`, whatever units the words are in.
        verdict: "" where neither is better.
    """

    subject: str
    now: str
    after: str
    now_number: float
    after_number: float
    unit: str
    verdict: Verdict


def gains_told(gains: Iterable[Gain], units: str) -> tuple[Told, ...]:
    """The figures that change enough to be told, better or worse."""
    return tuple(_told(gain, units) for gain in gains if gain.is_worth_telling)


def _told(gain: Gain, units: str) -> Told:
    words, number, unit = _FIGURES[gain.subject]
    dimension = FIGURES[gain.subject].dimension
    sides = [Quantity(value or 0.0, dimension) for value in (gain.before, gain.after)]
    now, after = (quantity_words(one, number, units, unit=unit, space=" ") for one in sides)
    return Told(
        subject=words,
        now=_signed(now),
        after=_signed(after),
        now_number=computed_number(sides[0].number),
        after_number=computed_number(sides[1].number),
        unit=unit_inside(dimension),
        verdict=gain.verdict,
    )


def _signed(words: str) -> str:
    """With a true minus sign, and none before zero."""
    is_zero = not float(words.partition(" ")[0])
    return words.lstrip("-") if is_zero else words.replace("-", "\N{MINUS SIGN}")


def settled_words(plan: Plan) -> tuple[str, ...]:
    """What was a trouble or stood against the vehicle, and does not any more."""
    told = [
        _SETTLED.get(finding.code, f"Put right: {_lower(title_words(finding))}.")
        for finding in findings_settled(plan)
    ]
    return tuple(dict.fromkeys([*told, *_without(plan.comparison)]))


def _without(comparison: Comparison) -> Iterator[str]:
    before, after = (
        {part.kind for part in side.components} for side in (comparison.before, comparison.after)
    )
    for kind, words in _WITHOUT.items():
        if kind in before and kind not in after:
            yield words


# What stays -------------------------------------------------------------------------------------


def left_words(findings: Sequence[Finding], units: str) -> tuple[str, ...]:
    """Findings that stand afterwards, one sentence for each kind."""
    told = [(f.severity, finding_words(_plainly(f), units)) for f in findings]
    counts = Counter((severity, words.title) for severity, words in told)
    first = {(severity, words.title): words.what for severity, words in reversed(told)}
    return tuple(
        f"{sentence(str(kind[0]))}: {_lower(kind[1])}. {first[kind]}"
        + (f" So at {counted(number - 1, 'other place')}." if number > 1 else "")
        for kind, number in counts.items()
    )


def _plainly(finding: Finding) -> Finding:
    """Names in it as people say them."""
    return evolve(finding, facts={name: _plain(fact) for name, fact in finding.facts.items()})


def _plain(fact: Fact) -> Fact:
    if isinstance(fact, tuple):
        return tuple(map(_plain, fact))
    return role_words(str(fact)) if isinstance(fact, Subject | str) else fact


def left_count_words(findings: Iterable[Finding]) -> str:
    """`1 warning, 2 cautions`, or `none`."""
    counts = Counter(finding.severity for finding in findings)
    found = [counted(counts[s], str(s)) for s in Severity if counts[s]]
    return ", ".join(found) or "none"
