"""Findings in words, as the screen shows them in metric units."""

from upgrade_planner.checks.findings import Finding
from upgrade_planner.documents.words.findings import FindingWords, finding_words


def told(finding: Finding) -> FindingWords:
    """The words of one finding."""
    return finding_words(finding, "metric")
