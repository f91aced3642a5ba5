"""Findings for the terminal."""

from collections.abc import Sequence

from rich.console import Console
from rich.padding import Padding
from rich.text import Text

from upgrade_planner.checks.findings import Finding, Severity
from upgrade_planner.documents.terminal.console import console
from upgrade_planner.documents.words.findings import finding_words


def print_findings(findings: Sequence[Finding], units: str, *, title: str = "") -> None:
    """Findings under their severities, gravest first; in words if there are none."""
    out = console()
    if title:
        out.print(Text(title), soft_wrap=True)
    for severity in Severity:
        ours = [finding for finding in findings if finding.severity is severity]
        if ours:
            out.print()
            out.print(Text(f"{str(severity).upper()} ({len(ours)})", style="bold"))
        for finding in ours:
            _print_finding(out, finding, units)
    if title and not findings:
        out.print("None found by the planner.")


def _print_finding(out: Console, finding: Finding, units: str) -> None:
    words = finding_words(finding, units)
    head = f"{words.title} [{finding.code}]: {', '.join(finding.where)}"
    out.print(Padding(Text(head, style="bold"), (0, 0, 0, 2)))
    lines = [words.what, f"Remedy: {words.remedy}", f"Limit from: {words.source}"]
    if words.follows:
        lines.insert(1, f"With it: {words.follows}.")
    for text in lines:
        out.print(Padding(Text(text), (0, 0, 0, 4)))
