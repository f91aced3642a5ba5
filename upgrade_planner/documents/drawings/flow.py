"""
The whole vehicle in one state: what flows where, volts at every terminal, findings at their place.

A conductor is as wide as its current is strong and points the way that it flows; one without
current is a fine dashed line.
"""

from collections.abc import Iterator, Mapping, Sequence

from attrs import evolve

from upgrade_planner.attributes import frozen
from upgrade_planner.checks.findings import Finding, SubjectForm
from upgrade_planner.comparison.comparing import compare
from upgrade_planner.configuration.model import TerminalRef
from upgrade_planner.configuration.values.measures import ampere, volt
from upgrade_planner.documents.drawings.chart import EFFORT, LITTLE_EFFORT, MANY_WIRES
from upgrade_planner.documents.drawings.labels import Lettering
from upgrade_planner.documents.drawings.lines import Route, flowing
from upgrade_planner.documents.drawings.marks import Mark
from upgrade_planner.documents.drawings.picture import Picture, picture_of
from upgrade_planner.documents.drawings.selection import whole_scene
from upgrade_planner.documents.drawings.union import DrawnWire, End, Union, end_of, union_of
from upgrade_planner.documents.words.quantities import quantity_words
from upgrade_planner.electrical.operating_points import OperatingPoint

LEAST_A = 0.005
"""A current below this is none. [A]"""


def flow_of(point: OperatingPoint, findings: Sequence[Finding], units: str) -> Picture:
    """
    The picture of an operating point.

    Args:
        point: The state, solved.
        findings: What is marked, in the order of their numbers.
        units: `metric`, `us` or `both`.
    """
    union = union_of(compare(point.configuration, point.configuration))
    marked = _marked(findings)
    scene = whole_scene(union, f"{point.configuration.vehicle.title}: {point.state.title}")
    scene = evolve(
        scene,
        lines=tuple(_directed(line, point) for line in scene.lines),
        notes=dict(_volts(union, point)),
        warned={
            name: word for (form, name), word in marked.items() if form is not SubjectForm.WIRE
        },
    )
    lettering = Lettering(
        units=units,
        notes={line.key: _amperes(_current(line, point)) for line in scene.lines},
        words={
            line.key: marked[SubjectForm.WIRE, line.wire.id]
            for line in scene.lines
            if (SubjectForm.WIRE, line.wire.id) in marked
        },
    )
    effort = EFFORT if len(scene.lines) <= MANY_WIRES else LITTLE_EFFORT
    return picture_of(scene, lettering=lettering, effort=effort, pen=_Pen(point))


@frozen
class _Pen:
    """Draws conductors of an operating point."""

    point: OperatingPoint

    def __call__(self, route: Route, wire: DrawnWire, arrows: tuple[bool, bool]) -> Iterator[Mark]:
        return flowing(route, abs(_current(wire, self.point)), arrows)


def _current(line: DrawnWire, point: OperatingPoint) -> float:
    """From start to end; nothing below what counts. [A]"""
    amps = point.wire_current_a(line.wire.id)
    return 0.0 if abs(amps) < LEAST_A else amps


def _directed(line: DrawnWire, point: OperatingPoint) -> DrawnWire:
    """With the end that its current goes to."""
    amps = _current(line, point)
    if not amps:
        return line
    return evolve(line, reached=(line.end if amps > 0 else line.start,))


def _amperes(amps: float) -> str:
    size = abs(amps)
    if not size:
        return "no current"
    return quantity_words(ampere(size), ".0f" if size >= 10 else ".2g", "metric")


def _volts(union: Union, point: OperatingPoint) -> Iterator[tuple[End, str]]:
    for role in union.parts:
        for terminal in union.part(role).terminals:
            ref = TerminalRef(role, terminal.name)
            volts = point.live_v(ref)
            if volts is not None:
                shown = quantity_words(volt(round(volts, 2) + 0.0), ".1f", "metric")
                yield end_of(point.configuration, ref), shown


def _marked(findings: Sequence[Finding]) -> Mapping[tuple[SubjectForm, str], str]:
    """Numbers of the findings about each wire and part; the gravest stands first."""
    numbers: dict[tuple[SubjectForm, str], list[str]] = {}
    for number, finding in enumerate(findings, start=1):
        for subject in finding.subjects:
            form = SubjectForm.PART if subject.form is SubjectForm.TERMINAL else subject.form
            numbers.setdefault((form, subject.name), []).append(str(number))
    return {key: f"FINDING {', '.join(dict.fromkeys(found))}" for key, found in numbers.items()}
