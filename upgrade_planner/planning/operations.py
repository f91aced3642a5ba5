"""
Operations: what a person does, as plain values.

Each names its place, what must be done before it and why. Nothing here decides an order;
`ordering` does. `documents/words/operations` tells each, and its reverse, in one line.
"""

from enum import StrEnum

from attrs import field

from upgrade_planner.attributes import frozen
from upgrade_planner.configuration.conditions import Conditions
from upgrade_planner.configuration.model import Component, TerminalRef, Wire
from upgrade_planner.planning.fact_values import Facts


class Phase(StrEnum):
    """Lettered phases; the letters stay fixed so that people learn them."""

    MAKE_SAFE = "A"
    RECORD = "B"
    TAKE_OUT = "C"
    CAP_OFF = "D"
    FIT_PARTS = "E"
    RUN_WIRES = "F"
    GROUNDS = "G"
    TEST_DEAD = "H"
    RECONNECT = "I"
    TEST_LIVE = "J"
    RUN_ENGINE = "K"
    SIGN = "L"


class Side(StrEnum):
    """From where a conductor comes: in use before, new, or lying capped in its loom."""

    OLD = "old"
    NEW = "new"
    CAPPED = "capped"


@frozen(order=True)
class ConductorKey:
    """One physical conductor during the work: an old one or a new one."""

    side: Side
    wire_id: str


class Work(StrEnum):
    """What sort of work a procedure is; minutes, rates and pages follow from it."""

    TEST = "test"
    PHOTOGRAPHS = "photographs"
    TAGS = "tags"
    CONVERSION = "conversion"
    ROAD_TEST = "road_test"


class Wait(StrEnum):
    """Why a step waits for another."""

    GROUND_OFF = "ground-off"
    MUST_REACH = "must-reach"
    BATTERY_END_OFF = "battery-end-off"
    BOTH_ENDS_OFF = "both-ends-off"
    SHARED_NUT = "shared-nut"
    OLD_WIRE_OUT = "old-wire-out"
    WIRE_LAID = "wire-laid"
    LOAD_END_FIRST = "load-end-first"
    CAPS_OFF = "caps-off"
    PART_IN_PLACE = "part-in-place"
    WIRES_OFF = "wires-off"
    OLD_PART_THERE = "old-part-there"
    VEHICLE_OFF_FIRST = "vehicle-off-first"
    BEFORE_ANY_CABLE = "before-any-cable"
    BATTERIES_FIRST = "batteries-first"
    ALL_BUT_GROUNDED = "all-but-grounded"
    THROUGH_TEST_LAMP = "through-test-lamp"
    LOOKED_AFTER = "looked-after"
    UPSTREAM_FUSE = "upstream-fuse"
    UNTOUCHED = "untouched"
    IN_TURN = "in-turn"


@frozen(order=True)
class Dependency:
    """Something that must be done first, and why; the sheet tells the reason."""

    operation_id: str
    reason: Wait


@frozen(kw_only=True)
class Operation:
    """
    One action.

    Attributes:
        id: Unique in a plan; built from what it does, so that equal jobs have equal ids.
        place: Id of the place where it is done, or "" if it is done anywhere.
        after: What must be done before it.
    """

    id: str
    phase: Phase
    place: str
    after: tuple[Dependency, ...] = ()


@frozen(kw_only=True)
class DetachEnd(Operation):
    """Take one wire end off its terminal."""

    conductor: ConductorKey
    wire: Wire
    end: TerminalRef


@frozen(kw_only=True)
class AttachEnd(Operation):
    """
    Join one wire end to a terminal.

    Attributes:
        remade: True if the end needs a new terminal: a new wire, or other hardware than before.
        is_feed: True if it is the end nearer to the battery, which is joined last.
    """

    conductor: ConductorKey
    wire: Wire
    end: TerminalRef
    remade: bool
    is_feed: bool = False


@frozen(kw_only=True)
class TakeOffEnds(Operation):
    """
    Take several wire ends off one terminal, which is loosened once.

    Attributes:
        ends: In the order in which they come off.
    """

    at: TerminalRef
    ends: tuple[DetachEnd, ...]


@frozen(kw_only=True)
class JoinEnds(Operation):
    """
    Join several wire ends at one terminal: loosened once, stacked, tightened once.

    Attributes:
        ends: In the order in which they go on.
    """

    at: TerminalRef
    ends: tuple[AttachEnd, ...]


def ends_taken_off(operation: Operation) -> tuple[DetachEnd, ...]:
    """The wire ends that an operation takes off, each with its own attributes."""
    match operation:
        case DetachEnd():
            return (operation,)
        case TakeOffEnds():
            return operation.ends
    return ()


def ends_joined(operation: Operation) -> tuple[AttachEnd, ...]:
    """The wire ends that an operation joins."""
    match operation:
        case AttachEnd():
            return (operation,)
        case JoinEnds():
            return operation.ends
    return ()


@frozen(kw_only=True)
class RemoveWire(Operation):
    """Take a conductor out, both ends included where they are still on."""

    conductor: ConductorKey
    wire: Wire
    for_resize: bool = False


@frozen(kw_only=True)
class CapWire(Operation):
    """Insulate both ends of a conductor that stays in its loom."""

    conductor: ConductorKey
    wire: Wire
    for_resize: bool = False


@frozen(kw_only=True)
class RunWire(Operation):
    """
    Lay a conductor along its way; its ends are joined by operations of their own.

    Attributes:
        replaces: The wire between the same ends that it replaces, or None.
        from_bag: True if it is an old wire that was kept, not a new one.
    """

    conductor: ConductorKey
    wire: Wire
    replaces: Wire | None = None
    from_bag: bool = False


@frozen(kw_only=True)
class UncapWire(Operation):
    """Take the caps off a conductor that lay dead in its loom, so that it can be joined again."""

    conductor: ConductorKey
    wire: Wire


@frozen(kw_only=True)
class LeadAcross(Operation):
    """Lead the free end of a conductor that moves to its new terminal."""

    conductor: ConductorKey
    wire: Wire
    becomes: Wire


@frozen(kw_only=True)
class RemovePart(Operation):
    """Take a component off the vehicle."""

    part: Component


@frozen(kw_only=True)
class FitPart(Operation):
    """Put a component on the vehicle; `from_bag` if it is one that came off earlier."""

    part: Component
    from_bag: bool = False


@frozen
class FuseFitted:
    """
    A fuse of a part.

    Attributes:
        way: The terminal that it feeds; "" where the part has one fuse only.
        rated_current_a: What it is rated for. [A]
    """

    way: str
    rated_current_a: float


@frozen(kw_only=True)
class AdjustPart(Operation):
    """Change fuses of a part that stays; `from_bag` if the fuses are those that were in it."""

    before: Component
    part: Component
    fuses: tuple[FuseFitted, ...]
    from_bag: bool = False


@frozen(kw_only=True)
class RebuildPart(Operation):
    """Give a part that stays other insides; `from_bag` if they were in it before."""

    before: Component
    part: Component
    gets: str
    leaves: str
    from_bag: bool = False


@frozen(kw_only=True)
class CareForWire(Operation):
    """Clean, mend and measure a worn conductor that serves on, before it is joined."""

    conductor: ConductorKey
    wire: Wire
    conditions: Conditions


@frozen(kw_only=True)
class CareForPart(Operation):
    """Clean, look over and measure a worn part that serves on."""

    part: Component


@frozen(kw_only=True)
class FindCause(Operation):
    """Find out why a wire or part burnt."""

    item: Wire | Component


@frozen(kw_only=True)
class InsertFuse(Operation):
    """Put one fuse in, with the battery joined; `is_old` if it was in the vehicle before."""

    part: Component
    fuse: FuseFitted
    is_old: bool = False


@frozen(kw_only=True)
class SwitchOn(Operation):
    """
    Try out a consumer once, after the job had something on its way in hand.

    Attributes:
        touched: Wires and parts on its way that the job had in hand; () if the ground changed.
    """

    part: Component
    touched: tuple[str, ...]


class Held(StrEnum):
    """How a value that a step takes must stand to what it is held against."""

    AT_LEAST = "at least"
    ABOVE = "above"
    SAME = "same as"
    SHOWN = "shown as"
    OPEN = "open circuit"


LEADS = "leads"
"""The meter's own leads held together: what a joint without resistance reads."""


@frozen
class Judged:
    """
    What one value of a step is held against, so that a screen can judge it.

    Attributes:
        held: How it must stand to it.
        value: The figure, in the unit of the step; None where it is another reading.
        of: The other reading, `LEADS`; "" where it is a figure.
    """

    held: Held
    value: float | None = None
    of: str = ""


@frozen(kw_only=True)
class Procedure(Operation):
    """
    A step that every job of its sort has: making safe, recording, testing, signing.

    Attributes:
        code: Our own name for it: the sentences are found by it, and its minutes if it stands
            in every job.
        work: The sort of work.
        is_standing: True for a standing step, which a labour table may name.
        reading_group: Rows of the test table that are taken in this step, or "".
        facts: What its sentences may name.
        views: Names of the places of which photographs are taken.
        unit: Unit of the value to write down, or "".
        judged: What each value to write down is held against.
        ends: Wire ends that the step is about, as wire id and terminal.
        hold: True if the work stops here until the result is right.
        source: Where a limit comes from; it may name facts, too.
    """

    code: str
    work: Work = Work.TEST
    is_standing: bool = False
    reading_group: str = ""
    facts: Facts = field(factory=dict, hash=False)
    views: tuple[str, ...] = ()
    unit: str = ""
    judged: tuple["Judged", ...] = ()
    hold: bool = False
    source: str = ""
    ends: tuple[tuple[str, TerminalRef], ...] = ()
