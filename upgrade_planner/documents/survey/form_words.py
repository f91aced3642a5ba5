"""Words of the survey form: what to measure where, and what to expect."""

from upgrade_planner.configuration.kinds import Family
from upgrade_planner.configuration.model import Configuration, TerminalRef, Wire
from upgrade_planner.configuration.values.quantities import Dimension
from upgrade_planner.documents.words.wording import NBSP, terminal_words
from upgrade_planner.inspection.measuring import Measurement

STATES = {
    "off": "key off, all loads off, at rest for an hour",
    "key_on": "key on, engine stopped, points closed, at most one minute",
    "cranking": "while cranking, ignition disabled, at most ten seconds",
    "dead": "battery disconnected, one end taken off",
}
SHORT = {"off": "key off", "key_on": "key on", "cranking": "cranking", "dead": "one end off"}


def expected_words(expected: Measurement) -> str:
    """The range with its unit, as it is judged: `1.2 to 1.5 Ω`."""
    unit = "Ω" if expected.dimension is Dimension.RESISTANCE else "V"
    digits = 2 if unit == "V" and expected.high < 1 else 1
    if expected.low <= 0:
        return f"at most {expected.high:.{digits}f}{NBSP}{unit}"
    return f"{expected.low:.{digits}f} to {expected.high:.{digits}f}{NBSP}{unit}"


def unit_of(expected: Measurement) -> str:
    """The unit that is printed inside the box."""
    return "Ω" if expected.dimension is Dimension.RESISTANCE else "V"


def measure_words(expected: Measurement, configuration: Configuration) -> str:
    """What to measure: quantity, state, where the leads go."""
    what = "ohms" if expected.dimension is Dimension.RESISTANCE else "volts"
    red, black = (end_words(end, configuration) for end in expected.between)
    return f"{what}, {STATES[expected.state]}: {red} to {black}"


def brief_measure_words(expected: Measurement) -> str:
    """What to measure, where the leads go to both ends of what the line is about."""
    what = "ohms" if expected.dimension is Dimension.RESISTANCE else "volts"
    return f"{what}, {SHORT[expected.state]}"


def end_words(end: str, configuration: Configuration) -> str:
    """A terminal as printed on it; other words as they are."""
    role, _, name = end.partition(".")
    part = configuration.component_by_role.get(role)
    if part is None:
        return end
    if part.family is Family.BATTERY and name in ("live", "grounded"):
        return f"battery {name} post"
    return terminal_words(configuration, TerminalRef(role, name))


def profile_size(wire: Wire) -> str:
    """The size as profiles write it."""
    return f"{wire.size.designation} {wire.size.system}"
