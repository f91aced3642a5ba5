"""Two configurations side by side: the call behind `compare`, and for scripts."""

from upgrade_planner.attributes import frozen
from upgrade_planner.checks.checking import check
from upgrade_planner.checks.findings import Finding, Severity
from upgrade_planner.comparison import comparing
from upgrade_planner.comparison.results import Comparison, Policy
from upgrade_planner.documents.words.own_car import beyond_words
from upgrade_planner.planning.own_car import load_job


@frozen(kw_only=True, eq=False)
class Compared:
    """
    What happens to each part and wire, and what stands in the target.

    Attributes:
        remarks: What comes from the car and not from the upgrade, a sentence each.
    """

    comparison: Comparison
    findings: tuple[Finding, ...]
    remarks: tuple[str, ...] = ()

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
    job = load_job(before, after)
    there, wanted = job.configurations
    comparison = comparing.compare(there, wanted, Policy(policy))
    remarks = tuple(map(beyond_words, job.beyond))
    findings = tuple(check(comparison.after))
    return Compared(comparison=comparison, findings=findings, remarks=remarks)
