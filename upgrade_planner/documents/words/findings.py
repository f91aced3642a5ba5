"""Findings in words: the sentences of data files, filled with what a finding gives."""

import tomllib
from collections.abc import Mapping, Sequence
from functools import cache
from importlib.resources import files

from attrs import field

from upgrade_planner.attributes import frozen
from upgrade_planner.checks.findings import Finding
from upgrade_planner.documents.words.filling import filled

GOVERNING = "governing"
"""Fact of a remedy: the code of the rule that asks for the most."""

MOST_NAMES = 4
"""Names of what follows that are told."""

REMEDIES = "remedies"
"""Table of a file of sentences that is about remedies, not about a code."""


@frozen(kw_only=True)
class Sentences:
    """
    Sentences with placeholders.

    Attributes:
        findings: By code: `title`, `what` and where it is told `why`, each by cause; "" stands for
            every cause.
        remedies: By code of the remedy.
    """

    findings: Mapping[str, Mapping[str, Mapping[str, str]]] = field(factory=dict)
    remedies: Mapping[str, str] = field(factory=dict)


@frozen(kw_only=True)
class FindingWords:
    """
    A finding as people read it.

    Attributes:
        title: The rule in a few words.
        what: What is wrong, with its figures.
        why: What comes of it, if nobody mends it; "" where `what` says so.
        remedy: What to do.
        source: Where the limit comes from.
        follows: What goes with it; "" if nothing does.
    """

    title: str
    what: str
    why: str
    remedy: str
    source: str
    follows: str


@cache
def sentences() -> Sentences:
    """
    All sentences, read once from `sentences/`, one file for each module of rules.

    Raises:
        ValueError: a code of a finding or of a remedy stands in two files.
    """
    findings: dict[str, Mapping[str, Mapping[str, str]]] = {}
    remedies: dict[str, str] = {}
    folder = files(__package__).joinpath("sentences")
    for file in sorted(folder.iterdir(), key=lambda file: file.name):
        table = tomllib.loads(file.read_text(encoding="utf-8"))
        more = table.pop(REMEDIES, {})
        if twice := (findings.keys() & table.keys()) | (remedies.keys() & more.keys()):
            raise ValueError(f"{file.name}: told elsewhere already: {', '.join(sorted(twice))}")
        remedies |= more
        findings |= {code: _by_cause(entry) for code, entry in table.items()}
    return Sentences(findings=findings, remedies=remedies)


def _by_cause(entry: Mapping[str, str | Mapping[str, str]]) -> Mapping[str, Mapping[str, str]]:
    return {key: {"": text} if isinstance(text, str) else text for key, text in entry.items()}


def title_words(finding: Finding, units: str = "metric") -> str:
    """The rule in a few words."""
    return _told(finding, "title", units)


def finding_words(finding: Finding, units: str) -> FindingWords:
    """
    A finding in words.

    Args:
        finding: The finding.
        units: `metric`, `us` or `both`; findings name one system, so both is metric.

    Raises:
        KeyError: no sentence for its code and cause, or one that names no fact of it.
    """
    remedy = sentences().remedies[finding.remedy.code]
    facts = dict(finding.remedy.facts)
    if GOVERNING in facts:
        facts[GOVERNING] = _in_sentence(_title_of(str(facts[GOVERNING])))
    return FindingWords(
        title=title_words(finding, units),
        what=_told(finding, "what", units),
        why=_why(finding),
        remedy=filled(remedy, facts, units),
        source=filled(finding.source, finding.named, units),
        follows=_follow_words(finding, units),
    )


def _follow_words(finding: Finding, units: str) -> str:
    """What follows from a finding, each title once, with what the cause does not name itself."""
    by_title: dict[str, list[str]] = {}
    for follower in finding.follows:
        names = by_title.setdefault(_in_sentence(title_words(follower, units)), [])
        names += [n for n in follower.where if n not in (*names, *finding.where)]
    told = [f"{title}{_shortened(names)}" for title, names in by_title.items()]
    return "; ".join(told)


def _shortened(names: Sequence[str]) -> str:
    """Names in brackets, the first few of them."""
    rest = len(names) - MOST_NAMES
    shown = ", ".join(names[:MOST_NAMES]) + (f" and {rest} more" if rest > 0 else "")
    return f" ({shown})" if names else ""


def _title_of(code: str) -> str:
    """The title of a rule; of one with several the first."""
    return next(iter(sentences().findings[code]["title"].values()))


def _in_sentence(title: str) -> str:
    return title[:1].lower() + title[1:]


def _why(finding: Finding) -> str:
    """What comes of it: a plain sentence without figures, or ""."""
    by_cause = sentences().findings[finding.code].get("why", {})
    return by_cause.get(finding.cause, by_cause.get("", ""))


def _told(finding: Finding, part: str, units: str) -> str:
    by_cause = sentences().findings[finding.code][part]
    sentence = by_cause[finding.cause if "" not in by_cause else ""]
    return filled(sentence, finding.named, units)
