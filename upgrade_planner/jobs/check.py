"""One configuration computed in every state: the call behind `check`, and for scripts."""

from attrs import frozen

from upgrade_planner.checks import checking
from upgrade_planner.checks.findings import Finding, Severity
from upgrade_planner.configuration.model import Configuration
from upgrade_planner.electrical.sizing import load_sized


@frozen(kw_only=True, eq=False)
class Checked:
    """A configuration and what would hurt in it."""

    configuration: Configuration
    findings: tuple[Finding, ...]

    @property
    def has_danger(self) -> bool:
        """Whether a danger stands."""
        return any(finding.severity is Severity.DANGER for finding in self.findings)

    def as_json(self) -> str:
        """The findings as JSON text."""
        from upgrade_planner.documents.shared.finding_data import findings_json

        return findings_json(self.configuration, self.findings)


def check(name: str) -> Checked:
    """
    The findings of a configuration, by shipped name or path.

    Raises:
        PlannerError: faulty input.
    """
    (configuration,) = load_sized(name)
    return Checked(configuration=configuration, findings=tuple(checking.check(configuration)))
