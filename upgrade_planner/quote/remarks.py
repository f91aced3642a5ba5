"""What an offer assumes, what it leaves out, and what nobody could vouch for, from the plan."""

from collections.abc import Iterator, Sequence
from enum import StrEnum

from attrs import frozen

from upgrade_planner.checks.examined import Examined
from upgrade_planner.checks.findings import Finding, Severity
from upgrade_planner.comparison.chain import new_findings
from upgrade_planner.comparison.wire_changes import Rejoined
from upgrade_planner.planning.plan import Plan
from upgrade_planner.quote.lines import is_as_found


class Sort(StrEnum):
    """What a remark says of the offer."""

    ASSUMED = "assumed"
    EXCLUDED = "not part of this offer"
    NOT_VOUCHED = "not vouched for"


@frozen(kw_only=True)
class Remark:
    """
    A sentence that belongs to the offer; `where` names wires and parts.

    One that tells of a finding has the finding instead of words; `is_new` if the job brings it.
    """

    sort: Sort
    words: str = ""
    where: tuple[str, ...] = ()
    finding: Finding | None = None
    is_new: bool = False


def remarks(plans: Sequence[Plan]) -> tuple[Remark, ...]:
    """All remarks on a job: of the vehicle as it is first, of the one as it shall be last."""
    working = [plan for plan in plans if plan.steps]
    if not working:
        return ()
    found = [*_assumed(working[0]), *_capped(working[-1]), *_left(working), *_not_vouched(working)]
    return tuple(dict.fromkeys(found))


def findings_left(plans: Sequence[Plan]) -> tuple[Finding, ...]:
    """What stands against the vehicle after the whole job, notes left out."""
    return tuple(f for f in plans[-1].findings if f.severity is not Severity.NOTE) if plans else ()


def _assumed(plan: Plan) -> Iterator[Remark]:
    before = plan.comparison.before
    words = f"The vehicle is wired as in “{before.title}”; where it is not, the price may change."
    yield Remark(sort=Sort.ASSUMED, words=words)
    if before.as_found_note:
        words = f"As found: {before.as_found_note}"
        yield Remark(sort=Sort.ASSUMED, words=words)
    if is_as_found(before):
        doubtful = [part.role for part in before.components if part.as_found]
        doubtful += [wire.id for wire in before.wires if wire.as_found]
        words = "Altered before; what the diagnostic block brings to light may change the price."
        yield Remark(sort=Sort.ASSUMED, words=words, where=tuple(doubtful))


def _capped(plan: Plan) -> Iterator[Remark]:
    """Dead wires that stay in the vehicle when all is done."""
    comparison = plan.comparison
    joined = {change.mark for change in comparison.wires if isinstance(change, Rejoined)}
    capped = {wire.id for wire in comparison.spares} - joined
    capped |= {wire.id for wire in comparison.capped_wires}
    if capped:
        words = "These wires stay in their looms, dead and capped at both ends."
        yield Remark(sort=Sort.EXCLUDED, words=words, where=tuple(sorted(capped)))


def _left(plans: Sequence[Plan]) -> Iterator[Remark]:
    """Findings that the job does not settle: those the vehicle had, and new ones."""
    new = new_findings(plans[0].findings_before, plans[-1].findings)
    for finding in findings_left(plans):
        yield Remark(
            sort=Sort.EXCLUDED, where=finding.where, finding=finding, is_new=finding in new
        )


def _not_vouched(plans: Sequence[Plan]) -> Iterator[Remark]:
    for configuration in (plans[0].comparison.before, plans[-1].comparison.after):
        reason = Examined(configuration=configuration).not_solved
        if reason:
            words = f"The electricity of “{configuration.title}” could not be computed: {reason}"
            yield Remark(sort=Sort.NOT_VOUCHED, words=words)
    words = (
        "Condition of what stays: wires, joints, insulation and parts are taken to be sound until "
        "they are looked at. Local rules and the makers' manuals come first."
    )
    yield Remark(sort=Sort.NOT_VOUCHED, words=words)
