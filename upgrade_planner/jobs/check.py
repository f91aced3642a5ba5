"""One configuration computed in every state: the call behind `check`, and for scripts."""

from pathlib import Path

from upgrade_planner.attributes import frozen
from upgrade_planner.checks import checking
from upgrade_planner.checks.findings import Finding, Severity
from upgrade_planner.configuration.files.shipped import find_profile, name_from
from upgrade_planner.configuration.model import Configuration
from upgrade_planner.electrical.sizing import load_sized
from upgrade_planner.electrical.states import unnamed_switches


@frozen(kw_only=True, eq=False)
class Checked:
    """A configuration and what would hurt in it."""

    configuration: Configuration
    findings: tuple[Finding, ...]

    @property
    def unnamed_switches(self) -> tuple[str, ...]:
        """Switches that no state of the profile names, with the position that they stay in."""
        found = unnamed_switches(self.configuration)
        return tuple(f"{part.role} ({position})" for part, position in found)

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


def mend(name: str, path: Path, *, replace: bool = False) -> tuple[Finding, ...]:
    """
    Writes a configuration with the remedies of dangers and warnings carried out, each commented.

    Args:
        name: The car as it is: shipped name or file.
        path: File to write, .toml.
        replace: A file that is there already may be lost.

    Returns:
        Dangers and warnings that are left, for somebody has to look first.

    Raises:
        PlannerError: faulty input, or the file cannot be written.
    """
    from upgrade_planner.documents.profiles.target_text import TargetHead, target_text
    from upgrade_planner.documents.shared.writing import require_target, write_whole
    from upgrade_planner.jobs.trial_file import SUFFIX, loader
    from upgrade_planner.targets.settling import mended_car

    base = find_profile("configuration", name)
    require_target(path, (SUFFIX,), inputs=[base], is_edited=True, replace=replace)
    (car,) = load_sized(name)
    with loader(car, name, path.parent) as load:
        made = mended_car(car, load)
    head = TargetHead(
        title=f"{car.title}, put right",
        summary=f"{car.title} with the remedies of what was found. All else stays as it is.",
        based_on=name_from(name, path),
        opening=(
            f"What would put right what is found in {name}: read each line before it is done.",
            f"Next: upgrade-planner worksheet {name} {path} -o sheet.pdf",
        ),
    )
    write_whole(path, target_text(made.target, head).encode())
    return made.left
