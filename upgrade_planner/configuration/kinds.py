"""
What a kind of component is and can do, as values; the data stand in data/kinds.toml.

Rules, models and documents ask for a family, a capability or the part that a terminal plays. A kind
is named in code only where its physics is its own.
"""

from collections.abc import Mapping
from enum import StrEnum

from upgrade_planner.attributes import frozen

JOINS_ONLY = "joins only"
"""The model of a kind that has the elements of its passages and no others."""


class Family(StrEnum):
    """Kinds that do the same job, whatever they are made of; `OTHER` where no rule asks for one."""

    BATTERY = "battery"
    ALTERNATOR = "alternator"
    DYNAMO = "dynamo"
    REGULATOR = "regulator"
    CUT_OUT = "cut-out"
    STARTER = "starter"
    RELAY = "relay"
    STARTER_RELAY = "starter relay"
    SWITCH = "switch"
    PROTECTION = "protection"
    JOINT = "joint"
    GROUND_POINT = "ground point"
    CONNECTOR = "connector"
    COIL = "coil"
    COIL_PACK = "coil pack"
    POINTS = "points"
    PICK_UP = "pick-up"
    IGNITION_MODULE = "ignition module"
    IGNITION_UNIT = "ignition unit"
    CONDENSER = "condenser"
    RESISTOR = "resistor"
    DIODE = "diode"
    LAMP = "lamp"
    MOTOR = "motor"
    LOAD = "load"
    AMMETER = "ammeter"
    VOLTMETER = "voltmeter"
    TACHOMETER = "tachometer"
    GAUGE = "gauge"
    SENDER = "sender"
    OTHER = "other"


class Passing(StrEnum):
    """As what a part passes a current from one terminal to another."""

    CONTACT = "contact"
    RESISTANCE = "resistance"
    LAMP = "lamp"
    WINDING = "winding"
    DIODE = "diode"
    CUT_OUT = "cut-out"


class When(StrEnum):
    """When a part passes it; a switch by its positions."""

    ALWAYS = "always"
    BY_POSITION = "by position"
    CRANKING = "cranking"
    PULLED_IN = "pulled in"
    LET_GO = "let go"


class TerminalUse(StrEnum):
    """What a terminal is for; without an entry in `plays` it plays the part of its own name."""

    SUPPLY = "supply"
    OUTPUT = "output"
    FIELD = "field"
    SENSE = "sense"
    LAMP = "lamp"
    ARMATURE = "armature"
    BYPASS = "bypass"
    START_SIGNAL = "start_signal"
    KEY_FEED = "key_feed"
    COIL_SWITCH = "coil_switch"
    WINDING = "winding"
    WINDING_RETURN = "winding_return"


class Capability(StrEnum):
    """What some kinds of a family can do and others cannot, or what more than one family can."""

    CHARGES = "charges"
    REGULATES = "regulates"
    EXCITED_BY_LAMP = "excited by lamp"
    BOLTED = "bolted"
    KEY = "key"
    PERMANENT_MAGNETS = "permanent magnets"
    FULL_VOLTAGE = "full voltage"
    DISCHARGES = "discharges"
    HOLDS_COIL = "holds coil"
    DRIVES_PACK = "drives pack"
    DISTRIBUTES = "distributes"
    RESETS = "resets"
    SENSES_CURRENT = "senses current"
    MADE_OF_WIRE = "made of wire"
    EITHER_GROUND = "either ground"


@frozen(kw_only=True)
class Passage:
    """
    What of a part passes a current.

    Attributes:
        between: Two terminals; () if a rating lists them.
        by: Name of that rating: positions of a switch, fuses of a box; "" if there is none.
    """

    between: tuple[str, ...]
    by: str
    passing: Passing
    when: When


@frozen(kw_only=True)
class Kind:
    """
    A kind of component.

    Attributes:
        words: What the program calls it.
        spoken: What else people call it; a kind of its own of that name comes first.
        letter: Class letter of IEC 81346-2.
        required_terminals: Functions it must have.
        optional_terminals: Functions it may have; None if any are allowed.
        ratings: Name of each rating and its dimension word.
        required_ratings: Names of the ratings that must be given.
        ratings_from_zero: Names of the ratings that may be zero; others are above.
        model: Name of its electrical model, or `JOINS_ONLY`.
        fed: Terminals that the battery must be able to reach; None: all that do not return.
        one_feed_is_enough: True if it works from any one of these.
        returns: Terminals through which its current may return, the first that a part has.
        plays: Terminals that play a part under another name than their own.
    """

    id: str
    words: str
    spoken: tuple[str, ...]
    letter: str
    required_terminals: tuple[str, ...]
    optional_terminals: tuple[str, ...] | None
    ratings: Mapping[str, str]
    required_ratings: frozenset[str]
    ratings_from_zero: frozenset[str]
    family: Family
    model: str
    passes: tuple[Passage, ...]
    fed: tuple[str, ...] | None
    one_feed_is_enough: bool
    returns: tuple[str, ...]
    plays: Mapping[str, str]
    capabilities: frozenset[Capability]
