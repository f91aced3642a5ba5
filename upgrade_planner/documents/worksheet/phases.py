"""Headings of the phases, and what a tick means in them: said once, not in each row."""

from collections.abc import Sequence

from upgrade_planner.configuration.model import Conductor
from upgrade_planner.documents.words.quantities import small_length_words
from upgrade_planner.electrical.fusible_links import LINK_GREATEST_LENGTH_M
from upgrade_planner.kit.allowances import SHRUNK_BEYOND_CAP_M
from upgrade_planner.planning.operations import (
    InsertFuse,
    Operation,
    Phase,
    RunWire,
    SwitchOn,
)

HEADS = {
    Phase.MAKE_SAFE: ("Make safe", "Nothing else is touched before the battery is off."),
    Phase.RECORD: ("Record and tag", "What is not recorded cannot be put back."),
    Phase.TAKE_OUT: ("Take out", ""),
    Phase.CAP_OFF: ("Cap off", ""),
    Phase.FIT_PARTS: ("Fit components", ""),
    Phase.RUN_WIRES: ("Run and join wires", "Load end first, feed end last."),
    Phase.GROUNDS: ("Grounds", "Bright metal, no paint, no rust under any ring."),
    Phase.TEST_DEAD: ("Inspect and test dead", "The battery is still disconnected."),
    Phase.RECONNECT: ("Reconnect", "First through a test lamp; the grounded cable last."),
    Phase.TEST_LIVE: ("Test live", "The engine does not run in this phase."),
    Phase.RUN_ENGINE: ("Run", ""),
    Phase.SIGN: ("Sign", ""),
}
"""Title and a few words beside it."""

_JOINED = (
    "Ring: bright metal under it, does not turn when tight; no washer between rings; plain washer, "
    "spring washer and nut on top. Blade: fully home, holds a pull.",
    "Crimp: holds a pull, sleeve shrunk over it. Wire: clipped, clear of heat and edges.",
    "Torque: the maker's figure; the one printed here only if there is none.",
)

_LINKED = (
    "Fusible link: free length at most {link}, hanging free and straight, clear of other wires and "
    "of rubber; no clip, no tape; crimped at its ends only, never lengthened, never of plain wire."
)

_TRIED = (
    "Lamp, motor, horn: works when switched on, stops when switched off. Gauge: shows what it "
    "must, steadily, with the ignition on."
)

_FUSED = (
    "Fuse: it stays whole, and what it feeds is live or works as it is switched on. If it blows, "
    "the fault is in that circuit: no larger fuse."
)

READ = (
    "A reading is right inside its limit and its expected range. Outside the limit: put it right "
    "first. Outside the range alone: look where its row says and measure again; off by more than "
    "the width of the range, it fails. Write each down."
)
"""How readings are judged; stands in the first row that has any."""

_MEANS = {
    Phase.TAKE_OUT: (
        "Off: the end is free, tagged, covered, laid aside.",
        "Out: both ends are free, the wire is tagged, in {bag}.",
        "A part comes out when its wires are off: tagged, with its screws and brackets, in {bag}; "
        "a heavy one set aside.",
    ),
    Phase.FIT_PARTS: ("Firm on its mounting.",),
    Phase.CAP_OFF: (
        "No bare metal at either end: closed-end cap, sleeve {beyond} beyond it, tag DEAD with the "
        "name, tied to the loom.",
    ),
    Phase.RUN_WIRES: _JOINED,
}


def tick_means(
    phase: Phase, units: str, bag: str = "the bag", *, operations: Sequence[Operation] = ()
) -> tuple[str, ...]:
    """
    What each tick of a phase stands for; empty if its rows say it.

    Args:
        phase: The phase.
        units: Units of lengths.
        bag: Where goes what comes off.
        operations: Its operations: links and readings are spoken of only where there are some.
    """
    lengths = {
        "beyond": small_length_words(float(SHRUNK_BEYOND_CAP_M), units),
        "link": small_length_words(LINK_GREATEST_LENGTH_M, units),
    }
    means = (*_MEANS.get(phase, ()), *dict.fromkeys(filter(None, map(_means_of, operations))))
    return tuple(text.format(bag=bag, **lengths) for text in means)


def _means_of(operation: Operation) -> str:
    """What the tick of some sorts of steps means, where such steps occur."""
    match operation:
        case RunWire(wire=wire) if wire.conductor is Conductor.LINK:
            return _LINKED
        case InsertFuse():
            return _FUSED
        case SwitchOn():
            return _TRIED
    return ""
