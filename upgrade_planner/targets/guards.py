"""The bench that a target lies on while it is cured, and guards put into the ends of its wires."""

from attrs import field

from upgrade_planner.attributes import frozen
from upgrade_planner.checks.findings import Finding, SubjectForm
from upgrade_planner.configuration.model import Component, Configuration, TerminalRef, Wire
from upgrade_planner.configuration.values.measures import ampere, metre
from upgrade_planner.configuration.values.sizes import Automatic, WireSize, size_text
from upgrade_planner.electrical.fusible_links import link_for
from upgrade_planner.electrical.lasting_current import lasting_current
from upgrade_planner.electrical.protection import fuse_ratings
from upgrade_planner.electrical.short_circuit import Feed, feeds
from upgrade_planner.targets.wish_edits import Edit, EditKey, NewName, Value

SHORT_LEAD_M = 0.15
"""Lead to a fuse or stud beside the old one. [m] Our assumption."""

LINK_LENGTH_M = 0.18
"""Length of a fusible link that is made up with both its ends. [m] Our assumption."""

LARGEST_FUSE_A = 60.0
"""A greater current gets a link. [A] Our assumption."""

LARGEST_ON_BLADE_MM2 = 4.0
"""Thickest wire on a blade of a fuse holder; thicker ones get studs. [mm²] Our assumption."""

LINK_INSULATION = "LINK"

Cure = tuple[Edit, ...]


@frozen(kw_only=True, eq=False)
class Bench:
    """
    The target on the bench.

    Attributes:
        configuration: As it stands after the edits so far.
        car: The car as it is.
        chosen: Slots whose system is another than in the car.
        may_add: False if only wires and parts that are there may be changed.
        told_first: True to do what a remedy says before what would be milder.
    """

    configuration: Configuration
    car: Configuration
    chosen: frozenset[str]
    may_add: bool = True
    told_first: bool = False
    _feeds: dict[str, Feed] = field(factory=dict)

    @property
    def feeds(self) -> dict[str, Feed]:
        """How the battery reaches each wire, by its id."""
        if not self._feeds:
            self._feeds.update({feed.wire.id: feed for feed in feeds(self.configuration)})
        return self._feeds


def wires_named(finding: Finding, bench: Bench) -> list[Wire]:
    """The wires that a finding names."""
    found = [s.name for s in finding.subjects if s.form is SubjectForm.WIRE]
    return [bench.configuration.wire_by_id[name] for name in found]


def parts_named(finding: Finding, bench: Bench) -> list[Component]:
    """The parts that a finding names."""
    forms = (SubjectForm.PART, SubjectForm.TERMINAL)
    names = dict.fromkeys(s.name for s in finding.subjects if s.form in forms)
    return [bench.configuration.component(name) for name in names]


def changed(wire: Wire, values: dict[str, Value], why: str) -> Edit:
    """An edit of a wire that is there."""
    return Edit(table=EditKey.CHANGE_WIRE, name=wire.id, values=values, why=why)


def changed_part(
    part: Component, values: dict[str, Value], why: str, called: NewName | None
) -> Edit:
    """An edit of a part that is there."""
    return Edit(table=EditKey.CHANGE_PART, name=part.role, values=values, why=why, called=called)


def fused(wire: Wire, bench: Bench) -> Cure:
    """A fuse in the end of a wire that is nearer to the battery."""
    feed = bench.feeds.get(wire.id)
    role = f"{wire.id.replace('-', '_')}_fuse"
    if feed is None or role in bench.configuration.component_by_role:
        return ()
    may_a = min(lasting_current(w, bench.configuration)[0] for w in _behind(feed, bench))
    rating = max((r for r in ratings_sold() if r <= may_a), default=0.0)
    if not rating:
        return ()
    joint = "blade 6.3 mm" if wire.size.area_mm2 <= LARGEST_ON_BLADE_MM2 else "stud M5"
    terminals = tuple(
        {"name": name, "label": label, "connection": joint}
        for name, label in (("in", "30"), ("out", "30a"))
    )
    place = bench.configuration.component(feed.near.role).place
    ratings: dict[str, Value] = {"rated_current": ampere(rating)}
    fuse = Edit(
        table=EditKey.ADD_PART,
        name=role,
        values={"kind": "fuse", "place": place, "terminals": terminals, "ratings": ratings},
        why="guard",
        called=NewName(code="fuse-of", old=wire.id),
    )
    return (fuse, *_joined_through(role, wire, feed))


def ratings_sold() -> list[float]:
    """Ratings of fuses that are sold, smallest first. [A]"""
    ratings = {r.rating_a for kind in ("blade", "large blade") for r in fuse_ratings(kind)}
    return sorted(rating for rating in ratings if 1 < rating <= LARGEST_FUSE_A)


def _behind(feed: Feed, bench: Bench) -> list[Wire]:
    """The wire, and what is fed through it without another fuse."""
    own = feed.wire.id
    found = [feed.wire]
    for other in bench.feeds.values():
        names = [branch.wire_id for branch in other.way]
        later = other.way[names.index(own) :] if own in names else ()
        if own in names and not any(b.guard in ("fuse", "link") for b in later):
            found.append(other.wire)
    return found


def _joined_through(role: str, wire: Wire, feed: Feed) -> Cure:
    """The lead to a fuse, and the wire from there."""
    key = "from" if feed.near == wire.start else "to"
    how: dict[str, Value] = {
        "insulation": wire.insulation.name,
        "length": metre(SHORT_LEAD_M),
    }
    lead = _lead(f"{wire.id}-fused", wire, feed, TerminalRef(role, "in"), wire.given_size, how)
    return lead, changed(wire, {key: TerminalRef(role, "out")}, "guard")


def _lead(
    name: str,
    wire: Wire,
    feed: Feed,
    to: TerminalRef,
    size: WireSize | Automatic,
    how: dict[str, Value],
) -> Edit:
    """From where a wire was fed to what guards it now, in its colour."""
    ends: dict[str, Value] = {"circuit": wire.circuit, "from": feed.near, "to": to}
    values = {**ends, "size": size_text(size), "colour": wire.colour.code, **how}
    return Edit(table=EditKey.ADD_WIRE, name=name, values=values, why="guard")


def linked(wire: Wire, bench: Bench) -> Cure:
    """A fusible link in the end of a wire that is nearer to the battery."""
    feed, link = bench.feeds.get(wire.id), link_for(wire.size)
    role = f"{wire.id.replace('-', '_')}_joint"
    if feed is None or link is None or role in bench.configuration.component_by_role:
        return ()
    place = bench.configuration.component(feed.near.role).place
    key = "from" if feed.near == wire.start else "to"
    joint = Edit(
        table=EditKey.ADD_PART,
        name=role,
        values={
            "kind": "splice",
            "place": place,
            "terminals": ({"name": "joint", "label": "", "connection": "splice"},),
        },
        why="guard",
        called=NewName(code="joint-of", old=wire.id),
    )
    how: dict[str, Value] = {
        "insulation": LINK_INSULATION,
        "conductor": "fusible link",
        "length": metre(LINK_LENGTH_M),
    }
    lead = _lead(f"{wire.id}-link", wire, feed, TerminalRef(role, "joint"), link, how)
    return (joint, lead, changed(wire, {key: TerminalRef(role, "joint")}, "guard"))
