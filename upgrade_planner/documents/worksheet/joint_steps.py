"""Turns what is joined or taken off at one terminal into words: order, fittings, torque."""

from collections.abc import Iterator, Sequence

from upgrade_planner.comparison.wire_changes import WireChange
from upgrade_planner.configuration.end_fittings import EndFitting, Fastening
from upgrade_planner.configuration.model import Connection, Joint, Wire
from upgrade_planner.configuration.values.measures import newton_metre
from upgrade_planner.documents.words.articles import fitting_words
from upgrade_planner.documents.words.quantities import (
    bare_number_words,
    counted,
    quantity_words,
)
from upgrade_planner.documents.words.wire_words import brief_words, numbered_name, tag_number
from upgrade_planner.documents.words.wording import sentence, terminal_words
from upgrade_planner.documents.worksheet.wire_steps import (
    STYLES,
    StepWords,
    changes_by_conductor,
    conductor_name,
    end_action,
)
from upgrade_planner.electrical.batteries import posts_of, second_returns
from upgrade_planner.planning.joints.meeting import Meeting, connection_at
from upgrade_planner.planning.joints.torque import torque_for
from upgrade_planner.planning.operations import (
    AttachEnd,
    DetachEnd,
    JoinEnds,
    Operation,
    TakeOffEnds,
)
from upgrade_planner.planning.plan import Plan

_STACKED = (Joint.STUD, Joint.SCREW)

_PLACES = {
    Fastening.CLAMP: "on the post",
    Fastening.BOLT_RING: "under the clamp bolt",
}


class JointSteps:
    """Words of the steps at terminals."""

    def __init__(self, plan: Plan, units: str) -> None:
        self._plan = plan
        self._units = units
        self._before = plan.comparison.before
        self._after = plan.comparison.after
        self._changes = changes_by_conductor(plan)

    def off(self, operation: DetachEnd | TakeOffEnds) -> StepWords:
        """Ends come off one terminal."""
        ends = operation.ends if isinstance(operation, TakeOffEnds) else (operation,)
        changes = [self._changes[end.conductor] for end in ends]
        at, joint = ends[0].end, connection_at(ends[0].end, self._before).joint
        do = (
            "Disconnect {} at the {}, cut close to its barrel."
            if joint is Joint.SPLICE
            else ("Disconnect {} at {}.")
        )
        return self._words(
            changes,
            ends,
            do.format(self._listed(ends), terminal_words(self._before, at)),
            details=(
                *self._conductors(ends),
                *self._off_first(ends),
                *self.left_behind(operation),
            ),
        )

    def joined(self, operation: AttachEnd | JoinEnds) -> StepWords:
        """Ends are joined at one terminal."""
        ends = operation.ends if isinstance(operation, JoinEnds) else (operation,)
        meeting = self._plan.meetings[operation.id]
        joint, at = meeting.connection.joint, terminal_words(self._after, meeting.end)
        details = (
            *self._fittings(meeting, len(ends)),
            *self._on_last(ends),
            *self._torque(meeting.connection),
        )
        do = (
            f"Connect {self._listed(ends)} by one crimp: {at}."
            if joint is Joint.SPLICE
            else (f"Connect {self._listed(ends)} to {at}{_together(joint, len(ends))}.")
        )
        return self._words(
            [self._changes[end.conductor] for end in ends],
            ends,
            do,
            details=details,
            tick=f"{at}: {' '.join(details) or 'the terminal on the wire serves.'}",
        )

    def _conductors(self, ends: Sequence[DetachEnd]) -> Iterator[str]:
        for end in ends:
            words = brief_words(end.wire, self._units)
            yield f"{words}." if len(ends) == 1 else f"{self._name(end)}: {words}."

    def _name(self, end: AttachEnd | DetachEnd) -> str:
        return conductor_name(self._plan, end.conductor)

    def _listed(self, ends: Sequence[AttachEnd | DetachEnd]) -> str:
        """One wire by number and name; of several the numbers, for their names follow."""
        if len(ends) == 1:
            return self._name(ends[0])
        numbers = [tag_number(self._plan.number_of(end.conductor)) for end in ends]
        return f"{', '.join(numbers[:-1])} and {numbers[-1]}"

    def _of_target(self, wires: Sequence[Wire]) -> list[str]:
        numbers = self._plan.comparison.numbers.new
        return [numbered_name(numbers[wire.id], wire.id) for wire in wires]

    def _fittings(self, meeting: Meeting, joined: int) -> Iterator[str]:
        """From the bottom: who lies where, with what on its end."""
        fittings = meeting.fittings
        if meeting.adapters:
            what = "double-blade adapter" if meeting.connection.joint is Joint.BLADE else "sleeve"
            yield f"Fit {counted(meeting.adapters, what)} first: a receptacle takes one wire only."
        if len(fittings) == 1:
            yield from self._only(fittings[0], meeting, joined)
            return
        is_stack = meeting.connection.joint in _STACKED
        for number, fitting in enumerate(fittings, 1):
            where = f"{number}" + (" at the bottom" if number == 1 and is_stack else "")
            place = _PLACES.get(fitting.fastening, "")
            names = " and ".join(self._of_target(fitting.wires))
            yield f"{where}: {names}{' ' + place if place else ''}, {self._end(fitting, meeting)}."
        if meeting.on_block:
            first = len(fittings) - len(meeting.on_block) + 1
            yield (
                f"The stud has no room for all: {first} and above lie on a distribution block"
                " beside it,"
                " joined to the stud by a short cable as thick as the thickest here."
            )

    def _only(self, fitting: EndFitting, meeting: Meeting, joined: int) -> Iterator[str]:
        others = self._of_target(fitting.wires)
        if fitting.is_new:
            yield sentence(self._end(fitting, meeting)) + "."
            if len(others) > joined:
                yield f"One for {' and '.join(others)}."
        elif len(others) > 1:
            yield f"One fitting, as it was: {', '.join(others)}."

    def _end(self, fitting: EndFitting, meeting: Meeting) -> str:
        if not fitting.is_new:
            return "as it is"
        system = self._after.vehicle.size_system
        words = fitting_words(fitting, meeting.connection, system, self._units)
        return words[:1].lower() + words[1:]

    def left_behind(self, operation: Operation) -> Iterator[str]:
        """What stays under a nut that this step loosens and nothing comes to later."""
        numbers = self._plan.comparison.numbers.old
        for left in self._plan.left_behind.get(operation.id, ()):
            at = terminal_words(self._before, left.end)
            wires = [wire for fitting in left.fittings for wire in fitting.wires]
            *first, last = [numbered_name(numbers[wire.id], wire.id) for wire in wires]
            names = f"{', '.join(first)} and {last}" if first else last
            stays = "stay" if len(wires) > 1 else "stays"
            torque = " ".join(self._torque(left.connection))
            yield f"At {at} {names} {stays}: tight again. {torque}".rstrip()

    def _torque(self, connection: Connection) -> Iterator[str]:
        words = torque_words(connection, self._units)
        if words:
            yield words

    def _off_first(self, ends: Sequence[DetachEnd]) -> Iterator[str]:
        for end in ends:
            if end.wire.id in second_returns(self._before) and end.end in posts_of(self._before):
                yield f"First of all {self._name(end)}: {_SECOND_RETURN}"

    def _on_last(self, ends: Sequence[AttachEnd]) -> Iterator[str]:
        for end in ends:
            if end.wire.id in second_returns(self._after) and end.end in posts_of(self._after):
                yield f"Last of all {self._name(end)}: {_SECOND_RETURN}"

    def _words(
        self,
        changes: Sequence[WireChange],
        ends: Sequence[AttachEnd | DetachEnd],
        instruction: str,
        *,
        details: tuple[str, ...],
        tick: str = "",
    ) -> StepWords:
        dispositions = list(dict.fromkeys(change.disposition for change in changes))
        return StepWords(
            mark=", ".join(map(self._name, ends)),
            action=end_action(dispositions[0]) if len(dispositions) == 1 else "",
            style=STYLES[dispositions[0]] if len(dispositions) == 1 else "none",
            instruction=instruction,
            details=details,
            tick=tick,
        )


_SECOND_RETURN = (
    "with the main ground off or loose the current of the starter would flow through its unit."
)


def torque_words(connection: Connection, units: str) -> str:
    """How tight the nut or screw of a terminal is made; "" where no figure is known."""
    torque = torque_for(connection)
    if torque is None:
        return ""
    low, high = newton_metre(torque.low_nm), newton_metre(torque.high_nm)
    words = quantity_words(high, ".1f", units)
    if low != high:
        words = f"{bare_number_words(low, '.1f', units)} to {words}"
    return f"Torque {words}."


def _together(joint: Joint, count: int) -> str:
    if count == 1:
        return ""
    return ", together under one nut" if joint in _STACKED else ", together"
