"""Headings of the phases, and what a tick means in them: said once, not in each row."""

from upgrade_planner.documents.words.quantities import small_length_words
from upgrade_planner.kit.allowances import SHRUNK_BEYOND_CAP_M
from upgrade_planner.planning.operations import Phase

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

_MEANS = {
    Phase.TAKE_OUT: (
        "Off: the end is free, tagged, covered, laid aside.",
        "Out: both ends are free, the wire is out, tagged, in {bag}.",
        "A part comes out when its wires are off: small ones into {bag}, heavy ones laid by, all "
        "tagged, with their screws and brackets.",
    ),
    Phase.FIT_PARTS: ("Firm on its mounting.",),
    Phase.CAP_OFF: (
        "No bare metal at either end: closed-end cap, sleeve {beyond} beyond it, tag DEAD with the "
        "name, tied to the loom.",
    ),
    Phase.RUN_WIRES: _JOINED,
}


def tick_means(phase: Phase, units: str, bag: str = "the bag") -> tuple[str, ...]:
    """What each tick of a phase stands for; empty if its rows say it. `bag` is where things go."""
    beyond = small_length_words(float(SHRUNK_BEYOND_CAP_M), units)
    return tuple(text.format(beyond=beyond, bag=bag) for text in _MEANS.get(phase, ()))
