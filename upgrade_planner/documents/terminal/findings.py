"""Findings for the terminal."""

from collections.abc import Sequence

from upgrade_planner.checks.findings import Finding, Severity
from upgrade_planner.configuration.model import Vehicle
from upgrade_planner.documents.terminal.spoken import Spoken
from upgrade_planner.documents.words.findings import finding_words


def print_findings(
    findings: Sequence[Finding], vehicle: Vehicle, units: str, *, title: str = "", english: str = ""
) -> None:
    """Findings of a vehicle under their severities, gravest first; in words if there are none."""
    out = Spoken(english, vehicle)
    if title:
        out.line(title)
    for severity in Severity:
        ours = [finding for finding in findings if finding.severity is severity]
        if ours:
            out.line()
            out.line(f"{str(severity).upper()} ({len(ours)})", style="bold")
        for finding in ours:
            _print_finding(out, finding, units)
    if title and not findings:
        out.line("None found by the planner.")


def _print_finding(out: Spoken, finding: Finding, units: str) -> None:
    words = finding_words(finding, units)
    head = f"{words.title} [{finding.code}]: {', '.join(finding.where)}"
    out.line(head, style="bold", indent=2)
    lines = [words.what, f"Remedy: {words.remedy}", f"Limit from: {words.source}"]
    if words.follows:
        lines.insert(1, f"With it: {words.follows}.")
    for text in lines:
        out.line(text, indent=4)
