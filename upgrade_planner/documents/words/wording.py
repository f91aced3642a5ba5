"""How wires, terminals, lengths and parts are named on paper; the only place that rounds."""

from upgrade_planner.configuration.model import (
    Component,
    Conductor,
    Configuration,
    Joint,
    TerminalRef,
    Wire,
)
from upgrade_planner.configuration.values.quantities import format_length
from upgrade_planner.configuration.values.sizes import METRIC, SAE, WireSize, other_system_label
from upgrade_planner.configuration.ways import Place

NBSP = "\N{NO-BREAK SPACE}"
UNITS = ("metric", "us", "both")


def sentence(text: str) -> str:
    """The text with a capital first letter."""
    return text[:1].upper() + text[1:]


def role_words(role: str) -> str:
    """`main_junction` as people say it."""
    return role.replace("_", " ")


def terminal_words(configuration: Configuration, ref: TerminalRef) -> str:
    """Part and terminal as cast on it, the function behind it: `alternator B+ (output)`."""
    terminal = configuration.component(ref.role).terminal(ref.terminal)
    name = role_words(ref.terminal)
    if terminal and terminal.connection.joint is Joint.SPLICE:
        return role_words(ref.role)
    label = terminal.label if terminal and terminal.label else ""
    if not label or label.lower() == name:
        return f"{role_words(ref.role)} {name}"
    return f"{role_words(ref.role)} {label.replace(' ', NBSP)} ({name})"


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


def size_words(size: WireSize, units: str) -> str:
    """
    The size as the vehicle's trade names it.

    With its nearest neighbour of the other system only where one system of units is asked for
    and the size belongs to the other; the parts list always has both.
    """
    is_metric = size.system == METRIC
    if units == "both" or is_metric == (units == "metric"):
        return size.label
    other = METRIC if size.system != METRIC else SAE
    return f"{size.label} ({other_system_label(size, other)})"


def length_words(length_m: float, units: str) -> str:
    """The length in the units wanted."""
    return format_length(length_m, units)


def conductor_words(wire: Wire, units: str) -> str:
    """Size, kind and colour in one run."""
    tail = f"{wire.insulation.name} · {wire.colour.label}"
    if wire.conductor is Conductor.RESISTANCE:
        ohms = f"{wire.resistance_ohm:g}{NBSP}Ω"
        return f"{wire.size.label} · resistance wire {ohms} · {tail}"
    if wire.conductor is Conductor.LINK:
        return f"{wire.size.label} · fusible link · {tail}"
    return f"{size_words(wire.size, units)} · {tail}"


def brief_words(wire: Wire) -> str:
    """Size, kind if not plain copper, and colour code: for long lists."""
    kind = {Conductor.COPPER: "", Conductor.LINK: " link"}.get(wire.conductor)
    if kind is None:
        kind = f" resistance wire {wire.resistance_ohm:g}{NBSP}Ω"
    return f"{wire.size.label}{kind} {wire.colour.code}"


def short_length_words(length_m: float, units: str) -> str:
    """The length in one system of units only."""
    return format_length(length_m, "us" if units == "us" else "metric")
