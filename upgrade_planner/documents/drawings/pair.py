"""
What changes as pairs of pictures, before and after, with everything in the same place.

One layout holds the old way of a moved conductor and the new one as two conductors; each picture
then shows what there is in its own state, thick where the other state does not have it.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from functools import partial

from attrs import evolve

from upgrade_planner.attributes import frozen
from upgrade_planner.comparison.comparing import compare
from upgrade_planner.comparison.part_changes import PartChange, PartExchanged
from upgrade_planner.comparison.results import Comparison
from upgrade_planner.comparison.wire_changes import (
    Added,
    Disposition,
    FromVehicle,
    IntoTarget,
    Kept,
    Moved,
    Removed,
    WireChange,
)
from upgrade_planner.configuration.model import Configuration
from upgrade_planner.documents.drawings.building import Sketch
from upgrade_planner.documents.drawings.labels import Lettering, flag_label, line_label
from upgrade_planner.documents.drawings.lines import Route, by_action
from upgrade_planner.documents.drawings.marks import Mark
from upgrade_planner.documents.drawings.pages import Format, change_pictures
from upgrade_planner.documents.drawings.picture import Effort, Picture, drawn
from upgrade_planner.documents.drawings.selection import Flag, Scene, uncounted_in
from upgrade_planner.documents.drawings.union import DrawnWire, Union, line_key, union_of


@frozen(kw_only=True, eq=False)
class _State:
    """
    One of both states.

    Attributes:
        union: Its configuration by itself.
        lines: What is in use in it, by the keys of the common layout.
        fresh: Keys of what the other state does not have.
    """

    word: str
    union: Union
    lines: Mapping[str, DrawnWire]
    fresh: frozenset[str]


def pair_pictures(
    comparison: Comparison, forms: Sequence[Format], lettering: Lettering, effort: Effort
) -> tuple[Picture, ...]:
    """
    The state before and the state after in turn, topic by topic.

    Args:
        comparison: What differs.
        forms: Pages, of which one must hold each picture.
        lettering: What decides the words of labels; steps of a sheet are not named.
        effort: How long the best layout is looked for.
    """
    wires = tuple(_both_ways(comparison.wires))
    whole = evolve(comparison, wires=wires, parts=tuple(map(_widest, comparison.parts)))
    old = {line_key(c): c.before.id for c in wires if isinstance(c, FromVehicle)}
    new = {line_key(c): c.after.id for c in wires if isinstance(c, IntoTarget)}
    kept = {line_key(c) for c in wires if isinstance(c, Kept)}
    states = (
        _state("before", comparison.before, old, kept),
        _state("after", comparison.after, new, kept),
    )
    plain = Lettering(units=lettering.units)
    return tuple(
        _panel(picture, state, plain)
        for picture in change_pictures(union_of(whole), forms, plain, effort)
        for state in states
    )


def _both_ways(changes: Iterable[WireChange]) -> Iterator[WireChange]:
    """A moved conductor as the one that goes and the one that comes."""
    for change in changes:
        if isinstance(change, Moved):
            yield Removed(before=change.before, reasons=change.reasons)
            yield Added(after=change.after, reasons=change.reasons)
        else:
            yield change


def _widest(change: PartChange) -> PartChange:
    """Of an exchanged part the longer name, so that there is room for both."""
    if not isinstance(change, PartExchanged):
        return change
    name = max(change.before.name, change.after.name, key=len)
    return evolve(change, after=evolve(change.after, name=name))


def _state(
    word: str, configuration: Configuration, wires: Mapping[str, str], kept: set[str]
) -> _State:
    union = union_of(compare(configuration, configuration))
    by_wire = {line.wire.id: line for line in union.lines}
    return _State(
        word=word,
        union=union,
        lines={key: evolve(by_wire[wire], key=key) for key, wire in wires.items()},
        fresh=frozenset(wires) - kept,
    )


def _panel(picture: Picture, state: _State, lettering: Lettering) -> Picture:
    """What a picture of both shows of one state."""
    sketch = picture.draft
    scene = _scene(picture, state)
    labels = {line.key: line_label(line, lettering) for line in scene.lines}
    for flag in scene.flags:
        labels[f"flag {flag.line.key}"] = flag_label(state.union, flag, lettering.units)
    panel = Sketch(
        scene=scene,
        lattice=sketch.lattice,
        figures={
            role: type(figure)(scene=scene, node=figure.node, model=figure)
            for role, figure in sketch.figures.items()
            if role in state.union.parts
        },
        labels=labels,
        old_ends={},
    )
    return drawn(panel, picture.tally, partial(_pen, state.fresh))


def _scene(picture: Picture, state: _State) -> Scene:
    both = picture.scene
    lines = tuple(state.lines[line.key] for line in both.lines if line.key in state.lines)
    flags = tuple(
        Flag(line=state.lines[flag.line.key], here=flag.here, there=flag.there)
        for flag in both.flags
        if flag.line.key in state.lines
    )
    roles = tuple(role for role in both.roles if role in state.union.parts)
    return Scene(
        title=f"{picture.title}: {state.word}",
        union=state.union,
        lines=lines,
        flags=flags,
        roles=roles,
        concerned=frozenset(),
        uncounted=uncounted_in(state.union, lines, flags, roles),
    )


def _pen(
    fresh: frozenset[str], route: Route, wire: DrawnWire, arrows: tuple[bool, bool]
) -> Iterator[Mark]:
    action = Disposition.ADD if wire.key in fresh else Disposition.KEEP
    return by_action(route, action, arrows)
