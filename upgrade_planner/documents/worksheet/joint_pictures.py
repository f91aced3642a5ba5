"""The pictures of the joints of a job: what is stacked on each stud, what passes each connector."""

from collections.abc import Iterator

from upgrade_planner.configuration.end_fittings import EndFitting
from upgrade_planner.configuration.model import Joint
from upgrade_planner.documents.drawings.joints import (
    Face,
    JointPicture,
    JointRow,
    connector_picture,
    stack_picture,
)
from upgrade_planner.documents.words.wire_words import brief_words, numbered_name
from upgrade_planner.documents.words.wording import part_words, sentence, terminal_words
from upgrade_planner.documents.worksheet.joint_steps import torque_words
from upgrade_planner.planning.joints.meeting import Meeting
from upgrade_planner.planning.plan import Plan

_STACKED = (Joint.STUD, Joint.SCREW, Joint.POST)


def joint_pictures(plan: Plan, units: str) -> Iterator[JointPicture]:
    """
    Each stud, screw or post that the job leaves with several rings, then each connector.

    Args:
        plan: The job; a terminal that it comes to twice is drawn as it is at the end.
        units: `metric`, `us` or `both`.
    """
    last = {meeting.end: meeting for meeting in plan.meetings.values()}
    for meeting in last.values():
        if meeting.connection.joint in _STACKED and len(meeting.fittings) > 1:
            yield _stack(plan, meeting, units)
    yield from _connectors(plan, units)


def _stack(plan: Plan, meeting: Meeting, units: str) -> JointPicture:
    torque = torque_words(meeting.connection, units)
    notes = [f"{sentence(meeting.connection.label)}. {torque}".strip()]
    if meeting.on_block:
        first = len(meeting.fittings) - len(meeting.on_block) + 1
        notes.append(f"{first} and above lie on a distribution block beside it.")
    return stack_picture(
        sentence(terminal_words(plan.comparison.after, meeting.end)),
        tuple(_ring(plan, fitting, units) for fitting in meeting.fittings),
        notes,
    )


def _ring(plan: Plan, fitting: EndFitting, units: str) -> JointRow:
    numbers = plan.comparison.numbers.new
    names = [
        f"{numbered_name(numbers[wire.id], wire.id)}, {brief_words(wire, units)}"
        for wire in fitting.wires
    ]
    return JointRow(text=" + ".join(names), is_new=fitting.is_new)


def _connectors(plan: Plan, units: str) -> Iterator[JointPicture]:
    """Connectors that a new or moved wire passes, with all that pass them in the end."""
    before, after = plan.comparison.before, plan.comparison.after
    numbers = plan.comparison.numbers.new
    old = {wire.id: before.runs[wire.id].connectors for wire in before.wires}
    passing: dict[str, list[JointRow]] = {}
    for wire in after.wires:
        for role in after.runs[wire.id].connectors:
            text = f"{numbered_name(numbers[wire.id], wire.id)}, {brief_words(wire, units)}"
            passing.setdefault(role, []).append(
                JointRow(text=text, is_new=role not in old.get(wire.id, ()))
            )
    for role, rows in sorted(passing.items()):
        if any(row.is_new for row in rows):
            part = after.component(role)
            face = Face(
                cavities=int(part.ratings.get("cavities", 0)),
                rows=int(part.ratings.get("cavity_rows", 0)),
            )
            yield connector_picture(sentence(part_words(part)), face, rows)
