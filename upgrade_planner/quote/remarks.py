"""What an offer assumes, what it leaves out, and what nobody could vouch for, from the plan."""

from collections.abc import Iterable, Iterator, Sequence
from enum import StrEnum

from upgrade_planner.attributes import frozen
from upgrade_planner.checks.causes import every
from upgrade_planner.checks.findings import Finding, Severity
from upgrade_planner.checks.power import NOT_SOLVED
from upgrade_planner.comparison.chain import new_findings
from upgrade_planner.comparison.wire_changes import Rejoined
from upgrade_planner.configuration.model import Component, Wire
from upgrade_planner.kit.common_needs import CommonNeed, common_needs
from upgrade_planner.planning.fact_values import Numbered
from upgrade_planner.planning.operations import CareForPart, CareForWire
from upgrade_planner.planning.plan import Plan
from upgrade_planner.quote.lines import is_as_found


class Bearing(StrEnum):
    """What a remark means for the offer."""

    ASSUMED = "assumed"
    EXCLUDED = "not part of this offer"
    NOT_VOUCHED = "not vouched for"


class Said(StrEnum):
    """What a remark says."""

    WIRED_AS_PROFILE = "wired as profile"
    AS_FOUND = "as found"
    ALTERED = "altered"
    LOOKED_AFTER = "looked after"
    WORN_GOES = "worn goes"
    CAPPED = "capped"
    COMMONLY_NEEDED = "commonly needed"
    FINDING_STANDS = "finding stands"
    NOT_COMPUTED = "not computed"
    CONDITION = "condition"


_BEARINGS = {
    Said.WIRED_AS_PROFILE: Bearing.ASSUMED,
    Said.AS_FOUND: Bearing.ASSUMED,
    Said.ALTERED: Bearing.ASSUMED,
    Said.LOOKED_AFTER: Bearing.ASSUMED,
    Said.WORN_GOES: Bearing.ASSUMED,
    Said.CAPPED: Bearing.EXCLUDED,
    Said.COMMONLY_NEEDED: Bearing.EXCLUDED,
    Said.FINDING_STANDS: Bearing.EXCLUDED,
    Said.NOT_COMPUTED: Bearing.NOT_VOUCHED,
    Said.CONDITION: Bearing.NOT_VOUCHED,
}


@frozen(kw_only=True)
class Remark:
    """
    What belongs to an offer besides its lines.

    Attributes:
        title: Title of the configuration that it is about, or "".
        note: What was found on the vehicle, or why nothing could be computed.
        where: Wires with their numbers, and parts.
        need: What such a job commonly needs and nobody computed.
        finding: The finding that stands; `is_new` if the job brings it.
    """

    said: Said
    title: str = ""
    note: str = ""
    where: tuple[str | Numbered, ...] = ()
    need: CommonNeed | None = None
    finding: Finding | None = None
    is_new: bool = False

    @property
    def bearing(self) -> Bearing:
        """What it means for the offer."""
        return _BEARINGS[self.said]


def remarks(plans: Sequence[Plan]) -> tuple[Remark, ...]:
    """All remarks on a job: of the vehicle as it is first, of the one as it shall be last."""
    working = [plan for plan in plans if plan.steps]
    if not working:
        return ()
    needed = [
        Remark(said=Said.COMMONLY_NEEDED, need=need)
        for plan in working
        for need in common_needs(plan)
    ]
    found = [*_assumed(working[0]), *_capped(working[-1]), *needed]
    found += [*_left(working), *_not_vouched(working)]
    return tuple(dict.fromkeys(found))


def findings_left(plans: Sequence[Plan]) -> tuple[Finding, ...]:
    """What stands against the vehicle after the whole job, notes left out."""
    return tuple(f for f in plans[-1].findings if f.severity is not Severity.NOTE) if plans else ()


def findings_settled(plan: Plan) -> tuple[Finding, ...]:
    """What stood against the vehicle and does not any more, notes left out."""
    after = {f.code for f in every(findings_left([plan]))}
    told = sorted(
        every(plan.findings_before), key=lambda f: (list(Severity).index(f.severity), f.code)
    )
    old = (f for f in told if f.severity is not Severity.NOTE)
    return tuple(finding for finding in old if finding.code not in after)


def _assumed(plan: Plan) -> Iterator[Remark]:
    before = plan.comparison.before
    yield Remark(said=Said.WIRED_AS_PROFILE, title=before.title)
    if before.as_found_note:
        yield Remark(said=Said.AS_FOUND, note=before.as_found_note)
    yield from _worn(plan)
    if is_as_found(before):
        doubtful = [part.role for part in before.components if part.as_found]
        wires = (wire.id for wire in before.wires if wire.as_found)
        yield Remark(said=Said.ALTERED, where=(*doubtful, *_numbered(wires, plan)))


def _worn(plan: Plan) -> Iterator[Remark]:
    """What was found worn, and whether this price has care for it, a new one, or neither."""
    before = plan.comparison.before
    cared = {op.wire.id for op in plan.operations if isinstance(op, CareForWire)}
    cared |= {op.part.role for op in plan.operations if isinstance(op, CareForPart)}
    items: tuple[Wire | Component, ...] = (*before.wires, *before.components)
    for item in items:
        if item.condition:
            name = item.id if isinstance(item, Wire) else item.role
            said = Said.LOOKED_AFTER if name in cared else Said.WORN_GOES
            where = _numbered([name], plan) if isinstance(item, Wire) else (name,)
            yield Remark(said=said, note=", ".join(item.condition), where=where)


def _numbered(wire_ids: Iterable[str], plan: Plan) -> tuple[str | Numbered, ...]:
    """Wires of the vehicle as it is, with the numbers that the job gives them."""
    numbers = plan.comparison.numbers.old
    return tuple(Numbered(numbers[one], one) if one in numbers else one for one in wire_ids)


def _capped(plan: Plan) -> Iterator[Remark]:
    """Dead wires that stay in the vehicle when all is done."""
    comparison = plan.comparison
    joined = {change.mark for change in comparison.wires if isinstance(change, Rejoined)}
    capped = {wire.id for wire in comparison.spares} - joined
    capped |= {wire.id for wire in comparison.capped_wires}
    if capped:
        yield Remark(said=Said.CAPPED, where=_numbered(sorted(capped), plan))


def _left(plans: Sequence[Plan]) -> Iterator[Remark]:
    """Findings that the job does not settle: those the vehicle had, and new ones."""
    new = new_findings(plans[0].findings_before, plans[-1].findings)
    for finding in findings_left(plans):
        yield Remark(
            said=Said.FINDING_STANDS, where=finding.where, finding=finding, is_new=finding in new
        )


def _not_vouched(plans: Sequence[Plan]) -> Iterator[Remark]:
    first, last = plans[0], plans[-1]
    for configuration, findings in (
        (first.comparison.before, first.findings_before),
        (last.comparison.after, last.findings),
    ):
        for why in (one.facts["why"] for one in every(findings) if one.code == NOT_SOLVED):
            yield Remark(said=Said.NOT_COMPUTED, title=configuration.title, note=str(why))
    yield Remark(said=Said.CONDITION)
