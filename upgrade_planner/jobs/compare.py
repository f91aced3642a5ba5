"""Two configurations side by side: the call behind `compare`, and for scripts."""

from attrs import frozen

from upgrade_planner.checks.checking import check
from upgrade_planner.checks.findings import Finding, Severity
from upgrade_planner.comparison import comparing
from upgrade_planner.comparison.results import Comparison, Policy
from upgrade_planner.electrical.sizing import load_sized


@frozen(kw_only=True, eq=False)
class Compared:
    """What happens to each part and wire, and what stands in the target."""

    comparison: Comparison
    findings: tuple[Finding, ...]

    @property
    def has_danger(self) -> bool:
        """Whether a danger stands in the target."""
        return any(finding.severity is Severity.DANGER for finding in self.findings)

    def as_json(self) -> str:
        """The comparison as JSON text."""
        from upgrade_planner.documents.worksheet.plan_json import comparison_json

        return comparison_json(self.comparison)


def compare(before: str, after: str, policy: str = Policy.REVERSIBLE) -> Compared:
    """
    The comparison of two configurations, by shipped names or paths.

    Raises:
        PlannerError: faulty input, or two configurations that cannot be compared.
    """
    loaded = load_sized(before, after)
    comparison = comparing.compare(loaded[0], loaded[1], Policy(policy))
    return Compared(comparison=comparison, findings=tuple(check(comparison.after)))
