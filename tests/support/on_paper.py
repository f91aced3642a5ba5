"""
What an electrician expects at a terminal, written down before the program is asked.

A line says the terminal and what is on it when the last nut is tight, from the bottom or from the
post outwards:

    main_junction.stud: battery-main* = charge-output* > link* > sensing-link*
    battery.positive: clamp starter-cable > bolt battery-link*
    side_fuse.out: panel-lamps* & side-lamps* & tail-lamps*; two ends, one adapter

`*`: the end is made in the job. `=`: either may lie below, their copper is the same. `+`: in one
barrel. `&`: which two share a barrel does not matter. `clamp` and `bolt`: the clamp of a battery
post, and a ring under its bolt.
"""

from itertools import pairwise

from upgrade_planner.configuration.end_fittings import Fastening
from upgrade_planner.planning.operations import ends_joined

WORD = {Fastening.CLAMP: "clamp ", Fastening.BOLT_RING: "bolt "}


def expected(table):
    """The lines of a table by terminal."""
    lines = table.replace(":\n", ":").splitlines()
    rows = (line.partition(":") for line in lines if line.strip())
    return {terminal.strip(): text.strip() for terminal, _, text in rows}


def joined(plan):
    """What the last operation leaves at every terminal at which one joins something."""
    found = {}
    for operation in plan.operations:
        if ends_joined(operation):
            meeting = plan.meetings[operation.id]
            found[str(meeting.end)] = meeting
    return found


def told(meeting, wanted):
    """A meeting in the words of the table, as free in its order as the line that is wanted."""
    adapters = _counted(meeting.adapters, "adapter")
    if "&" in wanted:
        ends = [_end(fitting) for fitting in meeting.fittings]
        loose = sorted(wire for end in ends for wire in end.split("+"))
        return f"{' & '.join(loose)}; {_counted(len(ends), 'end')}, {adapters}"
    return in_words(meeting.fittings) + (f"; {adapters}" if meeting.adapters else "")


def agrees(meeting, wanted):
    """Whether the meeting is what the line says, in any of its orders."""
    return told(meeting, wanted) == _in_order(wanted)


def in_words(fittings):
    """What lies on a terminal, from the bottom, ends of the same copper by their names."""
    sizes = [fitting.wires[0].size.area_mm2 for fitting in fittings]
    text = _end(fittings[0])
    for fitting, (below, above) in zip(fittings[1:], pairwise(sizes), strict=True):
        text += (" = " if below == above else " > ") + _end(fitting)
    return _in_order(text)


def _counted(number, name):
    words = ("no", "one", "two", "three")
    return f"{words[number]} {name}{'' if number == 1 else 's'}"


def _end(fitting):
    star = "*" if fitting.is_new else ""
    wires = "+".join(f"{wire.id}{star}" for wire in fitting.wires)
    return WORD.get(fitting.fastening, "") + wires


def _in_order(text):
    """Ends of the same copper by their names, for the table leaves their order free."""
    steps = text.split(" > ")
    return " > ".join(" = ".join(sorted(step.split(" = "))) for step in steps)
