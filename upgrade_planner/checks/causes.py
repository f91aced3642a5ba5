"""
Causes before consequences: which finding makes which others, and one remedy for one wire.

A finding that follows from another is kept inside it (`Finding.follows`), so nothing is hidden and
the list says what to do first. What follows counts for the severity of its cause.
"""

from collections.abc import Iterable, Iterator, Sequence

from attrs import evolve

from upgrade_planner.checks.consequences import CAUSES, Cause
from upgrade_planner.checks.findings import Finding, Remedy, Severity, SubjectForm
from upgrade_planner.checks.guard_remedies import OWN_FUSE_OR_SIZE, new_sizes
from upgrade_planner.configuration.edits import Resize
from upgrade_planner.configuration.kinds import Family
from upgrade_planner.configuration.model import Configuration
from upgrade_planner.configuration.values.sizes import WireSize

OWN_WIRE = (
    "DROP-WIRE",
    "DROP-HOT",
    "DROP-CURRENT",
    "SIZE-MECHANICAL",
    "PROT-OUTPUT",
    "PROT-LATE",
    "PROT-LINK-BIG",
    "PROT-FUSE-BIG",
    "CHG-OUTPUT-DROP",
    "STA-DROP-LIVE",
    "STA-SIGNAL-DROP",
)
"""What one wire that is too thin has against it."""

OF_GUARDS = ("PROT-LATE", "PROT-LINK-BIG", "PROT-FUSE-BIG")
"""What a wire has against it that a guard of its own settles."""

GRAVITY = tuple(Severity)

FOR_ALL = "fit-size-for-all"
"""Remedy of a wire that is too thin for more than one rule."""


def arranged(found: Iterable[Finding], configuration: Configuration) -> tuple[Finding, ...]:
    """Causes with what follows from them, gravest first; of equal gravity, surer causes first."""
    told = _one_for_a_wire(found, configuration)
    for rank in range(len(CAUSES)):
        told = _with_followers(told, rank, configuration)
    return gravest_first(told)


def gravest_first(found: Iterable[Finding]) -> tuple[Finding, ...]:
    """Gravest first; of equal gravity, surer causes first."""
    return tuple(sorted(found, key=_order))


def _order(finding: Finding) -> tuple[int, int, str, tuple[str, ...]]:
    return GRAVITY.index(finding.severity), _rank(finding), finding.code, finding.where


def _rank(finding: Finding) -> int:
    """Place among the causes; behind the last for what is none."""
    return next((n for n, cause in enumerate(CAUSES) if _is(finding, cause)), len(CAUSES))


def _with_followers(
    found: Sequence[Finding], rank: int, configuration: Configuration
) -> list[Finding]:
    """The same findings, those that follow from the cause of a rank inside it."""
    cause = CAUSES[rank]
    causes = [index for index, finding in enumerate(found) if _is(finding, cause)]
    if not causes:
        return list(found)
    taken: set[int] = set()
    heads: dict[int, Finding] = {}
    for index in causes:
        if index in taken:
            continue
        names = _names(found[index], configuration)
        mine = [
            n
            for n, other in enumerate(found)
            if n not in taken
            and n != index
            and n not in heads
            and _follows(other, cause, names, configuration)
            and _rank(other) >= rank
        ]
        taken.update(mine)
        heads[index] = _led_by(found[index], [found[n] for n in mine], configuration)
    return [heads.get(n, finding) for n, finding in enumerate(found) if n not in taken]


def _key(finding: Finding) -> str:
    return f"{finding.code}/{finding.cause}"


def _is(finding: Finding, cause: Cause) -> bool:
    if finding.severity is Severity.NOTE:
        return False
    is_named = _key(finding).startswith(cause.codes) or (
        finding.code in OWN_WIRE and any(_key(f).startswith(cause.codes) for f in finding.follows)
    )
    return is_named and cause.least_parts <= sum(
        subject.form is SubjectForm.PART for subject in finding.subjects
    )


def _follows(other: Finding, cause: Cause, names: set[str], configuration: Configuration) -> bool:
    if other.severity is Severity.NOTE:
        return False
    key = _key(other)
    if key.startswith(cause.everywhere) and not key.startswith(cause.codes):
        return True
    return key.startswith(cause.shared) and bool(_names(other, configuration) & names)


def _names(finding: Finding, configuration: Configuration) -> set[str]:
    """Wires and parts that a finding, or what follows from it, names; and ends of its first wire"""
    found = {f"{s.form is SubjectForm.WIRE} {s.name}" for s in finding.subjects}
    first = finding.subjects[0] if finding.subjects else None
    wire = configuration.wire_by_id.get(first.name) if first else None
    for ref in wire.ends if wire and first and first.form is SubjectForm.WIRE else ():
        if configuration.component(ref.role).family not in JOINING:
            found.add(f"False {ref.role}")
    return found.union(*(_names(follower, configuration) for follower in finding.follows))


JOINING = (Family.JOINT, Family.GROUND_POINT, Family.BATTERY, Family.PROTECTION, Family.CONNECTOR)
"""Where many wires meet, so that to end there says little."""


def _led_by(
    finding: Finding, followers: Iterable[Finding], configuration: Configuration
) -> Finding:
    """A cause with more of what follows from it; as grave as the gravest of all."""
    told = list(finding.follows)
    for follower in followers:
        told += [evolve(follower, follows=()), *follower.follows]
    severity = min((finding, *told), key=lambda f: GRAVITY.index(f.severity)).severity
    told.sort(key=lambda f: (GRAVITY.index(f.severity), f.code, f.where))
    remedy = _for_all(finding.remedy, (finding, *told), configuration)
    return evolve(finding, severity=severity, follows=tuple(told), remedy=remedy)


def _needs_copper_too(remedy: Remedy, told: Sequence[Finding]) -> bool:
    """True if a fuse alone, which a remedy offers, leaves something against the wire."""
    others = (f for f in told if not f.code.startswith(OF_GUARDS))
    wires = {edit.wire_id for edit in _resized(remedy)}
    asked = (edit.wire_id for f in others for edit in _resized(f.remedy))
    return remedy.code == OWN_FUSE_OR_SIZE and not wires.isdisjoint(asked)


def _for_all(remedy: Remedy, told: Sequence[Finding], configuration: Configuration) -> Remedy:
    """The same remedy with the sizes that settle all that is told of its wires."""
    if not remedy.edits or not all(isinstance(edit, Resize) for edit in remedy.edits):
        return remedy
    wanted: dict[str, list[tuple[WireSize, str]]] = {e.wire_id: [] for e in _resized(remedy)}
    for finding in told:
        for edit in _resized(finding.remedy):
            if edit.wire_id in wanted:
                wanted[edit.wire_id].append((edit.size, finding.code))
    chosen = {name: _surest(name, sizes, configuration) for name, sizes in wanted.items()}
    edits = tuple(Resize(name, size) for name, (size, _) in chosen.items())
    if edits == remedy.edits and not _needs_copper_too(remedy, told):
        return remedy
    if len(edits) == 1:
        ((size, governing),) = chosen.values()
        return Remedy(FOR_ALL, {"size": size, "governing": governing}, edits=edits)
    return Remedy("fit-larger-each", {"sizes": new_sizes(edits)}, edits=edits)


def _resized(remedy: Remedy) -> Iterator[Resize]:
    return (edit for edit in remedy.edits if isinstance(edit, Resize))


def _surest(
    wire_id: str, sizes: Sequence[tuple[WireSize, str]], configuration: Configuration
) -> tuple[WireSize, str]:
    """The largest size asked for, of a link that must be smaller the smallest; and who asks."""
    now_mm2 = configuration.wire_by_id[wire_id].size.area_mm2
    grows = any(size.area_mm2 > now_mm2 for size, _ in sizes)
    return (max if grows else min)(sizes, key=lambda one: one[0].area_mm2)


def _one_for_a_wire(found: Iterable[Finding], configuration: Configuration) -> list[Finding]:
    """What stands against one wire that is too thin: one finding, and the size that settles it."""
    rest = list(found)
    for wire_id in dict.fromkeys(name for f in rest for name in _thin_wires(f, configuration)):
        ours = [f for f in rest if wire_id in _thin_wires(f, configuration)]
        if len(ours) > 1:
            head = min(ours, key=lambda f: (GRAVITY.index(f.severity), OWN_WIRE.index(f.code)))
            led = _led_by(head, (f for f in ours if f is not head), configuration)
            rest = [led if f is head else f for f in rest if f is head or f not in ours]
    return rest


def _thin_wires(finding: Finding, configuration: Configuration) -> tuple[str, ...]:
    """Wires that a finding about size would have thicker; () if it is no such finding."""
    if finding.code not in OWN_WIRE:
        return ()
    wires = configuration.wire_by_id
    return tuple(
        edit.wire_id
        for edit in _resized(finding.remedy)
        if edit.size.area_mm2 > wires[edit.wire_id].size.area_mm2
    )


def every(found: Iterable[Finding]) -> Iterator[Finding]:
    """Findings and all that follows from them."""
    for finding in found:
        yield finding
        yield from finding.follows
