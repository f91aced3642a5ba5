"""Findings as a work sheet shows them: what the job cures, what must be decided, what it leaves."""

from collections.abc import Iterator, Sequence

from upgrade_planner.checks.findings import Finding, Severity, Subject
from upgrade_planner.configuration.model import Configuration
from upgrade_planner.documents.words.findings import finding_words
from upgrade_planner.documents.words.subjects import spoken, subject_words
from upgrade_planner.documents.worksheet.views import FindingView
from upgrade_planner.planning.plan import Plan

MOST_SUBJECTS = 3
"""Things that a finding names on paper, the worst or the cause first; `check` names them all."""


def cured_findings(plan: Plan, units: str) -> Iterator[FindingView]:
    """Dangers and warnings of the vehicle as it is that its target has not."""
    left = set(map(_fault, plan.findings))
    for finding in plan.findings_before:
        is_grave = finding.severity in (Severity.DANGER, Severity.WARNING)
        if is_grave and _fault(finding) not in left:
            yield _view(finding, plan.comparison.before, units, is_old=True)


def told_in_full(plan: Plan) -> Iterator[Finding]:
    """Findings in the target that are told with figures and source: dangers, and all new ones."""
    known = set(map(_fault, plan.findings_before))
    for finding in plan.findings:
        if finding.severity is Severity.DANGER or _fault(finding) not in known:
            yield finding


def target_findings(plan: Plan, sources: Sequence[str], units: str) -> Iterator[FindingView]:
    """What stands against the target, gravest first; sources by their number."""
    in_full = set(map(id, told_in_full(plan)))
    for finding in plan.findings:
        is_old = id(finding) not in in_full
        yield _view(finding, plan.comparison.after, units, is_old=is_old, sources=sources)


def _fault(finding: Finding) -> tuple[str, str, Sequence[Subject]]:
    """Two findings that have this in common are the same fault, whatever lies behind it."""
    return finding.code, finding.cause, finding.subjects[:1]


def _view(
    finding: Finding,
    configuration: Configuration,
    units: str,
    *,
    is_old: bool,
    sources: Sequence[str] = (),
) -> FindingView:
    words = finding_words(finding, units)
    source = f" [{sources.index(words.source) + 1}]" if words.source in sources else ""
    follows = f" From the same cause: {words.follows}." if words.follows else ""
    return FindingView(
        severity=str(finding.severity),
        code=finding.code,
        where=where_words(finding.subjects, configuration),
        title=words.title,
        what=spoken(f"{words.title}: {words.what}{source}{follows}", configuration),
        remedy=spoken(words.remedy, configuration),
        is_old=is_old,
    )


def where_words(subjects: Sequence[Subject], configuration: Configuration) -> str:
    """The first things that a finding is about, and how many more there are."""
    shown = [subject_words(one, configuration) for one in subjects[:MOST_SUBJECTS]]
    rest = len(subjects) - len(shown)
    return ", ".join(shown) + (f" and {rest} more" if rest > 0 else "")
