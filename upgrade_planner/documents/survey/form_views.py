"""What the survey form shows, as plain words; the template only lays it out."""

from upgrade_planner.attributes import frozen
from upgrade_planner.documents.worksheet.views import SafetyMessage


@frozen(kw_only=True)
class SurveyIdentity:
    """Title block and running heads."""

    title: str
    number: str
    date: str
    vehicle: str
    serial_number: str
    owner: str
    configuration: str
    ground: str
    voltage: str
    code: str
    mark: str
    program: str


@frozen(kw_only=True)
class Measured:
    """A value to measure: what, what to expect, the unit inside the box."""

    what: str
    expected: str
    unit: str
    can_be_used: bool
    """True if the measured resistance may replace the stated one."""


@frozen(kw_only=True)
class PartLine:
    """One part to look at."""

    role: str
    name: str
    terminals: str
    note: str
    measured: Measured | None


@frozen(kw_only=True)
class WireLine:
    """One wire to look at, at the place of its first end."""

    id: str
    circuit: str
    here: str
    there: str
    """The other end, with its place if it is another."""
    here_key: str
    """Which end of the profile is here: `from` or `to`."""
    there_key: str
    profile: str
    """Size, colour and length as the profile has them."""
    note: str
    measured: Measured | None
    asks_conductor: bool
    """True if it is no plain copper, so that it may have been replaced by some."""


@frozen(kw_only=True)
class PlaceView:
    """One place of the walk."""

    name: str
    parts: tuple[PartLine, ...]
    wires: tuple[WireLine, ...]
    ends_here: tuple[str, ...]


@frozen(kw_only=True)
class ReadingLine:
    """A value that belongs to no single part."""

    id: str
    name: str
    leads: str
    measured: Measured


@frozen(kw_only=True)
class SignLine:
    """Something to look for."""

    id: str
    look: str
    where: str
    record: str


@frozen(kw_only=True)
class StateLine:
    """What is measured in one state."""

    state: str
    what: str


@frozen(kw_only=True)
class SurveyView:
    """The whole form; a short one leaves out the state of parts and wires."""

    in_full: bool
    identity: SurveyIdentity
    safety: tuple[SafetyMessage, ...]
    states: tuple[StateLine, ...]
    readings: tuple[ReadingLine, ...]
    places: tuple[PlaceView, ...]
    strangers: tuple[str, ...]
    added: tuple[str, ...]
    """Names of the free lines for parts that are not in the profile."""
    signs: tuple[SignLine, ...]
    conditions: tuple[str, ...]
    conductors: tuple[str, ...]
    circuits: tuple[str, ...]
    insulations: tuple[str, ...]
