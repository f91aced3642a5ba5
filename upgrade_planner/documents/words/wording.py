"""How wires, terminals, lengths and parts are named on paper; the only place that rounds."""

from upgrade_planner.configuration.model import (
    Component,
    Configuration,
    Joint,
    Terminal,
    TerminalRef,
)
from upgrade_planner.configuration.values.quantities import format_length
from upgrade_planner.configuration.ways import Place

NBSP = "\N{NO-BREAK SPACE}"
UNITS = ("metric", "us", "both")

IN_DATA = "both"
"""Units of sentences in data: numbers are metric, sizes are named as the vehicle's trade does."""


_ITSELF = ("stud",)
"""Names of terminals that say no more than what the part is: a junction is its stud."""


_HYPHENED = {
    "pick up": "pick-up",
    "cut out": "cut-out",
    "cutout": "cut-out",
    "pull in": "pull-in",
    "hold in": "hold-in",
}
"""Words of roles and ratings that have a hyphen, which no name in a file has."""


def sentence(text: str) -> str:
    """The text with a capital first letter."""
    return text[:1].upper() + text[1:]


def role_words(role: str) -> str:
    """`main_junction` as people say it: `main junction`; `second battery`, `pick-up`, `cut-out`."""
    words = role.replace("_", " ")
    for apart, joined in _HYPHENED.items():
        words = words.replace(apart, joined)
    first = words.removesuffix(" second")
    return words if first == words else f"second {first}"


def plain_name(name: str) -> str:
    """The role of a part or the id of a wire without its strokes: `charge output`."""
    return role_words(name).replace("-", " ")


def terminal_words(configuration: Configuration, ref: TerminalRef) -> str:
    """
    Part, what the terminal is for, the mark on it: `alternator output (B+)`.

    A switch named after its terminal says it once: `ignition switch (15)`.
    """
    terminal = configuration.component(ref.role).terminal(ref.terminal)
    name = role_words(ref.terminal)
    if terminal and terminal.connection.joint is Joint.SPLICE:
        return role_words(ref.role)
    label = terminal.mark if terminal else ""
    part, is_said = role_words(ref.role), role_words(ref.role) == f"{name} switch"
    function = "" if name in _ITSELF else f" {name}"
    if not label or label.lower() == name:
        return f"{part}{function}{' terminal' if is_said else ''}"
    return f"{part}{'' if is_said else function} ({label.replace(' ', NBSP)})"


def mark_words(terminal: Terminal) -> str:
    """What a terminal is called beside its part: the mark on it, or what it is for."""
    if terminal.mark:
        return terminal.mark
    return "" if terminal.name in _ITSELF else role_words(terminal.name)


def part_words(part: Component) -> str:
    """The part's name, its first letter small unless it is a mark."""
    name = part.name
    return name if name[1:2].isupper() else name[:1].lower() + name[1:]


def place_beside(place: Place, part: Component) -> str:
    """
    The place of a part that was named just before.

    Profiles call a place after the part that sits there where nothing better tells it: `starter,
    low on the engine` is `low on the engine` for the starter itself.
    """
    return place.name.removeprefix(f"{role_words(part.role)}, ")


def length_words(length_m: float, units: str) -> str:
    """The length in the units wanted."""
    return format_length(length_m, units)


def short_length_words(length_m: float, units: str) -> str:
    """The length in one system of units only."""
    return format_length(length_m, "us" if units == "us" else "metric")


def voltage_words(before: Configuration, after: Configuration) -> str:
    """System voltage, before and after where it changes."""
    volts = dict.fromkeys(
        f"{one.vehicle.voltage_v:g}\N{NO-BREAK SPACE}V" for one in (before, after)
    )
    return " / ".join(volts)
