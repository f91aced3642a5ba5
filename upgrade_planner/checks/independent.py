"""
Faults of their own among what seems to follow: told beside the cause, with their own remedies.

Causes take along what is of the sort that follows from them. Whether it does is tried once: all
causes mended in the model, what can be mended and still stands there follows from none of them.
"""

from collections.abc import Callable, Iterator, Sequence

from attrs import evolve

from upgrade_planner.checks.causes import GRAVITY, OWN_WIRE, arranged, gravest_first
from upgrade_planner.checks.findings import Finding, SubjectForm
from upgrade_planner.configuration.edits import Rejoin, TakeOut, edited
from upgrade_planner.configuration.kinds import Family
from upgrade_planner.configuration.model import Configuration, TerminalRef
from upgrade_planner.electrical.batteries import grounded_post
from upgrade_planner.electrical.feed_ways import FeedWays
from upgrade_planner.electrical.short_circuit import CRANKING_CIRCUITS

Rules = Callable[[Configuration], Sequence[Finding]]
"""All findings of a configuration, none inside another."""

POINTS_CURRENT = "IGN-POINTS-CURRENT"
"""Too much current of a coil: a lifted ground of the regulator makes a little, no ballast much."""

TRIAL = "trial strap "
"""Beginning of the id of a wire that stands in for a missing strap."""


def parted(
    told: Sequence[Finding], configuration: Configuration, rules: Rules
) -> tuple[Finding, ...]:
    """Findings with what follows from them; faults of their own stand beside them."""
    doubtful = [f for head in told for f in _doubtful(head)]
    if not doubtful:
        return tuple(told)
    mended = configuration
    for head in told:
        if head.follows:
            mended = _mended(head, mended)
    if mended is configuration:
        return tuple(told)
    still = {_key(finding) for finding in arranged(rules(mended), mended)}
    own = [f for f in doubtful if _key(f) in still]
    if not own:
        return tuple(told)
    alone = {(f.code, f.where): f for f in rules(configuration)}
    heads = [_without(own, head, alone) for head in told]
    return gravest_first([*heads, *arranged(own, configuration)])


def _key(finding: Finding) -> tuple[str, tuple[str, ...]]:
    return finding.code, finding.where[:1]


def _doubtful(head: Finding) -> Iterator[Finding]:
    """
    Followers that may have a cause of their own.

    Of a wire that is too thin all are one; of the same code they are other sides of one mistake,
    such as two wires that changed places.
    """
    if head.code not in OWN_WIRE:
        yield from (
            f
            for f in head.follows
            if (f.remedy.edits or f.code == POINTS_CURRENT) and f.code != head.code
        )


def _without(
    own: Sequence[Finding], head: Finding, alone: dict[tuple[str, tuple[str, ...]], Finding]
) -> Finding:
    """A cause without faults of their own, as grave as what is left."""
    left = tuple(f for f in head.follows if f not in own)
    if len(left) == len(head.follows):
        return head
    first = alone.get((head.code, head.where), head)
    severity = min((first, *left), key=lambda f: GRAVITY.index(f.severity)).severity
    return evolve(head, follows=left, severity=severity)


def _mended(head: Finding, configuration: Configuration) -> Configuration:
    """
    The cause mended in the model, as its remedy says or as it means; else unchanged.

    Another size or fuse mends what a load does to one wire, not the load.
    """
    try:
        moves = all(isinstance(edit, Rejoin | TakeOut) for edit in head.remedy.edits)
        if head.remedy.edits and (moves or head.code.startswith("GND-")):
            return edited(configuration, head.remedy.edits)
        if head.code == "GND-NO-PATH":
            return _with_strap(head.subjects[0].name, configuration)
        if head.code == "PWR-SHORT":
            return _parted_short(head, configuration)
    except KeyError:
        pass  # another mending took the wire out
    return configuration


def _with_strap(metal: str, configuration: Configuration) -> Configuration:
    """A strap from the lump to the battery, like the heaviest wire there is."""
    post = grounded_post(configuration)
    points = configuration.parts_of(Family.GROUND_POINT)
    place_of = configuration.place_by_id
    start = next((p for p in points if place_of[p.place].metal == metal), None)
    if post is None or start is None:
        return configuration
    like = max(configuration.wires, key=lambda wire: (wire.size.area_mm2, wire.id))
    stud = TerminalRef(start.role, start.terminals[0].name)
    strap = evolve(like, id=TRIAL + metal, circuit="battery cable", start=stud, end=post)
    runs = {**configuration.runs, strap.id: configuration.runs[like.id]}
    wires = sorted((*configuration.wires, strap), key=lambda wire: wire.id)
    return evolve(configuration, wires=tuple(wires), runs=runs)


def _parted_short(head: Finding, configuration: Configuration) -> Configuration:
    """The wire of the short taken out that costs the fewest terminals their feed or ground."""
    tried = [edited(configuration, (TakeOut(name),)) for name in _wires(head, configuration)]
    ways = [(FeedWays(without), without) for without in tried]
    parted = [(len(w.fed) + len(w.grounded), without) for w, without in ways if not w.is_shorted]
    return max(parted, key=lambda one: one[0], default=(0, configuration))[1]


def _wires(head: Finding, configuration: Configuration) -> Iterator[str]:
    for subject in head.subjects:
        wire = configuration.wire_by_id.get(subject.name)
        is_wire = subject.form is SubjectForm.WIRE and wire is not None
        if is_wire and wire and wire.circuit not in CRANKING_CIRCUITS:
            yield wire.id
