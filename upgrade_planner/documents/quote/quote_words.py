"""What a quotation says in plain words: the work, what the owner gains, what stays as it is."""

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence

from attrs import evolve

from upgrade_planner.attributes import frozen
from upgrade_planner.checks.findings import Fact, Finding, Severity, Subject, SubjectForm
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
from upgrade_planner.documents.words.findings import finding_words
from upgrade_planner.documents.words.speech import Speech
from upgrade_planner.documents.words.wire_words import tag_number
from upgrade_planner.documents.words.wording import plain_name, role_words, sentence
from upgrade_planner.planning.fact_values import Numbered
from upgrade_planner.planning.plan import Plan
from upgrade_planner.quote.gains import FIGURES, Gain, Verdict
from upgrade_planner.quote.remarks import findings_settled

_FIGURES = {
    "ignition supply, running": (".1f", "V"),
    "ignition supply, cranking": (".1f", "V"),
    "stored energy at 1000 r/min": (".0f", "mJ"),
    "battery voltage, loads on": (".1f", "V"),
    "charging current, idling": (".1f", "A"),
    "charging current, loads on": (".1f", "A"),
    "output to spare, loads on": (".0f", "A"),
    "loss from output to battery, loads on": (".2f", "V"),
    "hottest wire": (".0f", "°C"),
    "drain with the key off": (".3f", "A"),
}
"""By subject of a Gain: how its number is written, and in which unit."""

_PART_KEYS = {
    "work.new": PartDisposition.ADD,
    "work.taken_out": PartDisposition.REMOVE,
    "work.moved": PartDisposition.RELOCATE,
    "work.converted": PartDisposition.CONVERT,
    "work.rebuilt": PartDisposition.REBUILD,
    "work.adjusted": PartDisposition.ADJUST,
}
_WIRE_KEYS = {
    "work.wires_new": Disposition.ADD,
    "work.wires_resized": Disposition.RESIZE,
    "work.wires_renewed": Disposition.RENEW,
    "work.wires_moved": Disposition.MOVE,
    "work.wires_taken_out": Disposition.REMOVE,
    "work.wires_capped": Disposition.CAP_OFF,
}
_WITHOUT = ("points_distributor", "regulator_electromechanical")
"""Kinds of parts whose going an owner is glad of. Source: common practice."""


# What will be done ------------------------------------------------------------------------------


def work_words(comparison: Comparison, speech: Speech) -> tuple[str, ...]:
    """What happens to the vehicle, in sentences."""
    return (
        *_conversion(comparison, speech),
        *_parts(comparison, speech),
        *_wires(comparison, speech),
        speech.say("work.always"),
    )


def _conversion(comparison: Comparison, speech: Speech) -> Iterator[str]:
    old, new = comparison.before.vehicle, comparison.after.vehicle
    if old.ground != new.ground:
        before, after = (speech.say(f"ground.{one.ground}") for one in (old, new))
        yield speech.say("work.ground", before=before, after=after)
    if old.voltage_v != new.voltage_v:
        before, after = (speech.pointed(f"{one.voltage_v:g}") for one in (old, new))
        yield speech.say("work.voltage", before=before, after=after)


def _parts(comparison: Comparison, speech: Speech) -> Iterator[str]:
    changes = [c for c in comparison.parts if not _is_joint(c)]
    for change in changes:
        if isinstance(change, PartExchanged):
            yield speech.say(
                "work.exchanged",
                before=speech.own(change.before.name),
                after=speech.inside(change.after.name),
            )
    for key, wanted in _PART_KEYS.items():
        names = [c.part.name for c in changes if c.disposition is wanted]
        if names:
            yield speech.say(key, parts=_listed(names, speech))


def _is_joint(change: PartChange) -> bool:
    return change.part.family is Family.JOINT


def _listed(names: Sequence[str], speech: Speech) -> str:
    first, *rest = names
    return "; ".join([speech.own(first), *map(speech.inside, rest)])


def _wires(comparison: Comparison, speech: Speech) -> Iterator[str]:
    counts = [
        speech.say(key, count=number)
        for key, disposition in _WIRE_KEYS.items()
        if (number := comparison.count(disposition))
    ]
    if counts:
        kept = comparison.count(Disposition.KEEP)
        yield speech.say("work.wires", counts=", ".join(counts), kept=kept)


# What the owner gains ---------------------------------------------------------------------------


@frozen(kw_only=True)
class Told:
    """
    One figure.

    Attributes:
        now, after: In words, with unit.
        now_number, after_number: In `unit`, whatever units the words are in.
        verdict: NEITHER where neither is better.
        verdict_words: In words; "" for that.
    """

    subject: str
    now: str
    after: str
    now_number: float
    after_number: float
    unit: str
    verdict: Verdict
    verdict_words: str


def gains_told(gains: Iterable[Gain], speech: Speech) -> tuple[Told, ...]:
    """The figures that change enough to be told, better or worse."""
    return tuple(_told(gain, speech) for gain in gains if gain.is_worth_telling)


def _told(gain: Gain, speech: Speech) -> Told:
    number, unit = _FIGURES[gain.subject]
    dimension = FIGURES[gain.subject].dimension
    sides = [Quantity(value or 0.0, dimension) for value in (gain.before, gain.after)]
    now, after = (speech.quantity(one, number, unit) for one in sides)
    return Told(
        subject=speech.say(f"figures.{gain.subject}"),
        now=now.replace("-", "\N{MINUS SIGN}"),
        after=after.replace("-", "\N{MINUS SIGN}"),
        now_number=computed_number(sides[0].number),
        after_number=computed_number(sides[1].number),
        unit=unit_inside(dimension),
        verdict=gain.verdict,
        verdict_words=speech.say(f"gains.{gain.verdict}") if gain.verdict else "",
    )


def settled_words(plan: Plan, speech: Speech) -> tuple[str, ...]:
    """What was a trouble or stood against the vehicle, and does not any more."""
    told = [_settled(finding, speech) for finding in findings_settled(plan)]
    return tuple(dict.fromkeys([*told, *_without(plan.comparison, speech)]))


def _settled(finding: Finding, speech: Speech) -> str:
    key = f"settled.{finding.code}"
    if speech.texts.has(key):
        return speech.say(key)
    return speech.say("gains.put_right", title=speech.inside(_title(finding, speech)))


def _title(finding: Finding, speech: Speech) -> str:
    key = f"findings.{finding.code}"
    return speech.say(key if speech.texts.has(key) else f"{key}.{finding.cause}")


def _without(comparison: Comparison, speech: Speech) -> Iterator[str]:
    before, after = (
        {part.kind for part in side.components} for side in (comparison.before, comparison.after)
    )
    for kind in _WITHOUT:
        if kind in before and kind not in after:
            yield speech.say(f"without.{kind}")


# What stays -------------------------------------------------------------------------------------


def left_words(findings: Sequence[Finding], plan: Plan, speech: Speech) -> tuple[str, ...]:
    """Findings that stand afterwards, one sentence for each kind."""
    counts = Counter((f.severity, _title(f, speech)) for f in findings)
    first = {(f.severity, _title(f, speech)): f for f in reversed(findings)}
    return tuple(_left(first[kind], number - 1, plan, speech) for kind, number in counts.items())


def _left(finding: Finding, others: int, plan: Plan, speech: Speech) -> str:
    """English has a sentence of its own for each; other languages tell place and figures."""
    names = [stands_at(one.name, plan, speech) for one in _places(finding)]
    figures = [
        speech.quantity(one, ".3g") if isinstance(one, Quantity) else str(one)
        for one in (finding.value, finding.limit)
        if one is not None
    ]
    told = speech.say("left.where", names=", ".join(dict.fromkeys(names))) if names else ""
    both = speech.say("left.figures", value=figures[0], limit=figures[1]) if figures[1:] else ""
    return speech.say(
        "left.finding",
        severity=sentence(speech.say(f"severity.{finding.severity}")),
        title=speech.inside(_title(finding, speech)),
        what=finding_words(_plainly(finding), speech.units).what if speech.is_english else "",
        where=told,
        figures=both,
        more=speech.counted("left.more", others) if others else "",
    )


def _places(finding: Finding) -> Iterator[Subject]:
    yield from (one for one in finding.subjects if one.form is not SubjectForm.METAL)


def stands_at(where: str | Numbered, plan: Plan, speech: Speech) -> str:
    """A wire, by its number where it has one, or a part, as people say it."""
    if isinstance(where, Numbered):
        return _wire_words(where.number, where.name, speech)
    numbers = _numbers(plan)
    if where in numbers:
        return _wire_words(numbers[where], where, speech)
    sides = (plan.comparison.before, plan.comparison.after)
    names = {part.role: part.name for side in sides for part in side.components}
    name = speech.own(names.get(where, where))
    return speech.say("place.part", role=plain_name(where), name=name)


def _wire_words(number: int, name: str, speech: Speech) -> str:
    return speech.say("place.wire", mark=tag_number(number), name=plain_name(name))


def _numbers(plan: Plan) -> Mapping[str, int]:
    numbers = plan.comparison.numbers
    return {**numbers.old, **numbers.new}


def _plainly(finding: Finding) -> Finding:
    """Names in it as people say them."""
    return evolve(finding, facts={name: _plain(fact) for name, fact in finding.facts.items()})


def _plain(fact: Fact) -> Fact:
    if isinstance(fact, tuple):
        return tuple(map(_plain, fact))
    return role_words(str(fact)) if isinstance(fact, Subject | str) else fact


def left_count_words(findings: Iterable[Finding], speech: Speech) -> str:
    """`1 warning, 2 cautions`, or `none`."""
    counts = Counter(finding.severity for finding in findings)
    found = [speech.counted(f"severities.{s}", counts[s]) for s in Severity if counts[s]]
    return ", ".join(found) or speech.say("left.none")
