"""Findings for the terminal."""

from collections.abc import Sequence

from upgrade_planner.checks.findings import Finding, Severity
from upgrade_planner.configuration.model import Configuration
from upgrade_planner.documents.terminal.spoken import Spoken
from upgrade_planner.documents.words.findings import finding_words
from upgrade_planner.documents.words.quantities import counted
from upgrade_planner.documents.words.subjects import spoken, subject_words

STYLES = {
    Severity.DANGER: "red",
    Severity.WARNING: "magenta",
    Severity.CAUTION: "magenta",
    Severity.NOTE: "",
}
"""
Colours where there are any, readable on dark and on light terminals, as yellow and cyan are not;
the word stands beside them.
"""

MOST_PLACES = 8
"""Places that one heading names. Our choice: two lines of 80 columns."""


def print_findings(
    findings: Sequence[Finding],
    configuration: Configuration,
    units: str,
    *,
    title: str = "",
    english: str = "",
    unnamed_switches: Sequence[str] = (),
) -> None:
    """
    Findings, gravest first, behind a line that counts them and says what comes first.

    Args:
        findings: The findings.
        configuration: What they were found in.
        units: `metric`, `us` or `both`.
        title: What was looked at.
        english: `us` or `uk`; "" for that of the vehicle's trade.
        unnamed_switches: Those that no state names, with the position they stay in.
    """
    out = Spoken(english, configuration.vehicle)
    if findings or title:
        out.line(_summary(findings, configuration, units), style="bold")
    if title:
        out.line(title)
    for severity in Severity:
        for finding in findings:
            if finding.severity is severity:
                out.line()
                _print_finding(out, finding, configuration, units)
    if unnamed_switches:
        names = ", ".join(unnamed_switches)
        out.line()
        out.line(f"No state names these switches, so they stay in one position: {names}")
        out.line("A vehicle says under [states.cranking] or [states.loaded] which are worked.")


def _summary(findings: Sequence[Finding], configuration: Configuration, units: str) -> str:
    if not findings:
        return "Nothing found by the planner."
    counts = [
        counted(n, str(severity), f"{severity}s")
        for severity in Severity
        for n in [sum(one.severity is severity for one in findings)]
        if n
    ]
    gravest = min(findings, key=lambda one: list(Severity).index(one.severity))
    if gravest.severity is Severity.NOTE:
        return f"{', '.join(counts)}."
    remedy = finding_words(gravest, units).remedy
    names = [subject_words(one, configuration) for one in gravest.subjects[:1]]
    where = f" at {names[0]}" if names else ""
    return f"{', '.join(counts)}. To do first{where}: {spoken(remedy, configuration)}"


def _where(finding: Finding, configuration: Configuration) -> str:
    """The worst places by name; of many the rest as a number, for `--json` has them all."""
    rest = len(finding.subjects) - MOST_PLACES
    named = finding.subjects if rest <= 1 else finding.subjects[:MOST_PLACES]
    shown = [subject_words(one, configuration) for one in named]
    return ", ".join(shown) + (f" and {rest} more" if rest > 1 else "")


def _print_finding(out: Spoken, finding: Finding, configuration: Configuration, units: str) -> None:
    words = finding_words(finding, units)
    severity = finding.severity
    head = f"{str(severity).upper()} {words.title}: {_where(finding, configuration)}"
    lines = [f"{words.what} {words.why}".strip()]
    if words.follows:
        lines.append(f"From the same cause: {words.follows}.")
    lines.append(f"Remedy: {words.remedy}")
    out.block(head, [spoken(line, configuration) for line in lines], style=STYLES[severity])
    out.line(f"Limit from: {words.source} [{finding.code}]", style="dim", indent=2)
