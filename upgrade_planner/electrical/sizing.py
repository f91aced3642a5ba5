"""
Chooses the size of wires whose profile says `size = "auto"`.

The smallest standard size of the vehicle's size system that meets every condition: allowable
current, voltage drop, the fuse or link before it, and mechanical strength. Which condition
governed, and which came next, is kept for print.
"""

from collections.abc import Iterator, Mapping

from attrs import evolve

from upgrade_planner.attributes import frozen
from upgrade_planner.configuration.loading import load_configurations
from upgrade_planner.configuration.model import Conductor, Configuration, Wire
from upgrade_planner.configuration.values.sizes import AUTOMATIC, WireSize, sizes_in
from upgrade_planner.electrical.allowable_current import allowable_current
from upgrade_planner.electrical.circuit import wire_name, wire_ohms
from upgrade_planner.electrical.drop_limits import limit_for
from upgrade_planner.electrical.feed_ways import Branch, Guard
from upgrade_planner.electrical.fusible_links import wire_protected_by
from upgrade_planner.electrical.operating_points import operating_points
from upgrade_planner.electrical.protection import FUSE_LOAD_RATIO, fuse_ratings
from upgrade_planner.electrical.short_circuit import feeds
from upgrade_planner.errors import PlannerError

MECHANICAL_MINIMUM_MM2 = 0.75
"""Thinnest copper that stands vibration and the hand. [mm²] Source: 33 CFR 183.425(d), 18 gauge
in a sheath; SAE 18 holds 0.78 mm²."""

FIRST_GUESS_MM2 = 5.0
"""Size that stands in while the currents are found for the first time. [mm²]"""

ROUNDS = 4
"""Currents hardly depend on the sizes: two rounds settle what can be settled."""

LEAST_FUSE_A = 2.0
"""Smallest fuse that is proposed: thinner ones are hard to buy. [A] Source: our assumption."""

FOUR_NUMBERS = "four gauge numbers: common practice"

CRANKING_CIRCUITS = ("battery cable", "starter cable")
"""Exempt from the table of allowable currents: minutes of cranking do not heat them.
Source: 33 CFR 183.425(g) exempts cranking conductors."""


class NotSized(PlannerError):
    """No standard size meets the conditions, or a wire cannot be sized at all."""


@frozen(kw_only=True)
class Requirement:
    """
    The smallest size that one condition allows.

    Attributes:
        condition: The condition in words, with its figures.
        size: Smallest standard size that meets it.
        source: Where its limit comes from.
        protects: True if it follows from the fuse or link before the wire, not from its load.
    """

    condition: str
    size: WireSize
    source: str
    protects: bool = False


@frozen(kw_only=True)
class ChosenSize:
    """
    A size that was chosen.

    Attributes:
        wire_id: The wire.
        size: The size.
        governing: The condition that asked for it.
        runner_up: The condition that came next.
        smaller_fuse_a: Rating of a fuse at its feed end with which the runner-up's size would do,
            where the protection alone asked for more; None if there is none. [A]
    """

    wire_id: str
    size: WireSize
    governing: Requirement
    runner_up: Requirement | None
    smaller_fuse_a: float | None = None

    @property
    def words(self) -> str:
        """One sentence for the sheet."""
        text = f"{self.size.label} chosen for {self.governing.condition}"
        if self.runner_up is not None:
            text += f"; next: {self.runner_up.condition} ({self.runner_up.size.label} would do)"
        if self.smaller_fuse_a is not None:
            text += (
                f"; a fuse of {_rating_words(self.smaller_fuse_a)} at its feed end"
                " would be enough for its load"
            )
        return text + "."


def sized(configuration: Configuration) -> tuple[Configuration, Mapping[str, ChosenSize]]:
    """
    The configuration with every automatic size chosen, and the choices by wire id.

    Raises:
        NotSized: a wire has no adequate standard size, or a link or resistance wire is automatic.
    """
    automatic = [wire for wire in configuration.wires if wire.given_size == AUTOMATIC]
    if not automatic:
        return configuration, {}
    for wire in automatic:
        if wire.conductor is not Conductor.COPPER:
            raise NotSized(f'{wire.id}: found size "auto" on a {wire.conductor}; expected a size')
    standard = sizes_in(configuration.vehicle.size_system)
    guess = next(size for size in standard if size.area_mm2 >= FIRST_GUESS_MM2)
    choices: dict[str, ChosenSize] = {}
    sizes = {wire.id: guess for wire in automatic}
    for _ in range(ROUNDS):
        made = with_sizes(configuration, sizes)
        currents, guards = design_currents(made), _guards(made)
        choices = {
            wire.id: _choice(wire, made, currents[wire.id], guards.get(wire.id))
            for wire in automatic
        }
        chosen = {wire_id: choice.size for wire_id, choice in choices.items()}
        if chosen == sizes:
            break
        sizes = chosen
    return _with_notes(with_sizes(configuration, sizes), choices), choices


def load_sized(*names: str) -> tuple[Configuration, ...]:
    """
    Configurations by name or path, automatic sizes chosen.

    Raises:
        UnknownProfile, ConfigurationError: as at `configuration.loading.load_configurations`.
        NotSized: as at `sized`.
    """
    return tuple(sized(configuration)[0] for configuration in load_configurations(*names))


def _with_notes(configuration: Configuration, choices: Mapping[str, ChosenSize]) -> Configuration:
    """Each chosen size says in its wire's note what governed it; the sheet prints notes."""
    wires = tuple(
        evolve(wire, note=f"{wire.note} {choices[wire.id].words}".strip())
        if wire.id in choices
        else wire
        for wire in configuration.wires
    )
    return evolve(configuration, wires=wires)


def with_sizes(configuration: Configuration, sizes: Mapping[str, WireSize]) -> Configuration:
    """The same configuration with other sizes for some wires."""
    wires = tuple(
        evolve(wire, size=sizes[wire.id]) if wire.id in sizes else wire
        for wire in configuration.wires
    )
    return evolve(configuration, wires=wires)


def design_currents(configuration: Configuration) -> Mapping[str, float]:
    """
    Current each wire must carry: the greatest of all states; charge output, the rated output. [A]
    """
    points = operating_points(configuration)
    found = {
        wire.id: max(abs(point.wire_current_a(wire.id)) for point in points.values())
        for wire in configuration.wires
    }
    for wire in configuration.wires:
        if wire.circuit == "charge output":
            for ref in wire.ends:
                rated = configuration.component(ref.role).ratings.get("rated_output", 0.0)
                found[wire.id] = max(found[wire.id], float(rated))
    return found


def _guards(configuration: Configuration) -> Mapping[str, Branch]:
    """The fuse or link before each wire, the greatest where ways differ; else no entry."""
    found: dict[str, Branch] = {}
    for feed in feeds(configuration):
        guard = feed.guard
        if guard is None or guard.guard not in (Guard.FUSE, Guard.LINK):
            continue
        known = found.get(feed.wire.id)
        if known is None or guard.limit_a > known.limit_a:
            found[feed.wire.id] = guard
    return found


def _choice(
    wire: Wire, configuration: Configuration, current_a: float, guard: Branch | None
) -> ChosenSize:
    needed = sorted(
        requirements(wire, configuration, current_a, guard),
        key=lambda requirement: -requirement.size.area_mm2,
    )
    governing, runner_up = needed[0], needed[1] if len(needed) > 1 else None
    fuse_a = None
    if governing.protects and runner_up is not None:
        fuse_a = _fuse_for(wire, runner_up.size, configuration, current_a)
    return ChosenSize(
        wire_id=wire.id,
        size=governing.size,
        governing=governing,
        runner_up=runner_up,
        smaller_fuse_a=fuse_a,
    )


def _fuse_for(
    wire: Wire, size: WireSize, configuration: Configuration, current_a: float
) -> float | None:
    """Rating of the smallest fuse that the load leaves whole and that size outlasts. [A]"""
    ambient = configuration.runs[wire.id].ambient_c
    allowed_a = allowable_current(size, wire.insulation.rated_c, ambient).current_a
    fitting = (
        rating.rating_a
        for rating in fuse_ratings("blade")
        if current_a / FUSE_LOAD_RATIO <= rating.rating_a <= allowed_a
    )
    return min((rating for rating in fitting if rating >= LEAST_FUSE_A), default=None)


def requirements(
    wire: Wire, configuration: Configuration, current_a: float, guard: Branch | None = None
) -> Iterator[Requirement]:
    """
    The smallest standard size for each condition.

    Args:
        wire: The wire; its size is not looked at.
        configuration: Gives run, air temperature, voltage and size system.
        current_a: Current it must carry. [A]
        guard: The fuse or link before it, which the wire must outlast; None if there is none.

    Raises:
        NotSized: even the largest standard size does not meet a condition.
    """
    standard = sizes_in(configuration.vehicle.size_system)
    if wire.circuit not in CRANKING_CIRCUITS:
        yield _for_heat(wire, configuration, current_a, standard)
    yield _for_drop(wire, configuration, current_a, standard)
    if guard is not None and wire.circuit not in CRANKING_CIRCUITS:
        yield _for_protection(wire, configuration, guard, standard)
    strong = next(size for size in standard if size.area_mm2 >= MECHANICAL_MINIMUM_MM2)
    yield Requirement(
        condition="mechanical strength", size=strong, source="33 CFR 183.425(d), 18 gauge"
    )


def _for_heat(
    wire: Wire, configuration: Configuration, current_a: float, standard: tuple[WireSize, ...]
) -> Requirement:
    ambient = configuration.runs[wire.id].ambient_c
    found = _carrying(wire, ambient, current_a, standard)
    if found is not None:
        size, source = found
        condition = f"{current_a:.0f}\N{NO-BREAK SPACE}A at {ambient:.0f}\N{NO-BREAK SPACE}°C"
        return Requirement(condition=condition, size=size, source=source)
    raise NotSized(
        f"{wire.id}: found {current_a:.0f} A in {wire.insulation.name} at {ambient:.0f} °C, more "
        "than any standard size may carry; expected a smaller current or a better insulation"
    )


def _for_drop(
    wire: Wire, configuration: Configuration, current_a: float, standard: tuple[WireSize, ...]
) -> Requirement:
    limit = limit_for(wire.circuit, current_a, configuration.vehicle.voltage_v)
    for size in standard:
        ohms = wire_ohms(evolve(wire, size=size), configuration, wire.insulation.rated_c)
        if ohms * current_a <= limit.limit_v:
            condition = f"a drop of at most {limit.limit_v:.2f}\N{NO-BREAK SPACE}V"
            return Requirement(condition=condition, size=size, source=limit.source)
    raise NotSized(
        f"{wire.id}: found a drop above {limit.limit_v:.2f} V at {current_a:.0f} A even in the "
        "largest standard size; expected a shorter run or a smaller current"
    )


def _for_protection(
    wire: Wire, configuration: Configuration, guard: Branch, standard: tuple[WireSize, ...]
) -> Requirement:
    """A wire carries its fuse's rating for good; a link is four gauge numbers thinner."""
    if guard.guard is Guard.LINK:
        return _for_link(wire, configuration, guard, standard)
    ambient = configuration.runs[wire.id].ambient_c
    found = _carrying(wire, ambient, guard.rating_a, standard)
    words = f"the fuse of {_rating_words(guard.rating_a)} before it"
    if found is None:
        raise NotSized(
            f"{wire.id}: found {words}, more than any standard size may carry; expected a smaller "
            "fuse"
        )
    return Requirement(condition=words, size=found[0], source=found[1], protects=True)


def _rating_words(rating_a: float) -> str:
    return f"{rating_a:g}\N{NO-BREAK SPACE}A"


def _for_link(
    wire: Wire, configuration: Configuration, guard: Branch, standard: tuple[WireSize, ...]
) -> Requirement:
    link = next(w for w in configuration.wires if wire_name(w.id) == guard.name)
    guarded = wire_protected_by(link.size)
    wanted = guarded.area_mm2 if guarded is not None else standard[-1].area_mm2
    size = next((size for size in standard if size.area_mm2 >= wanted), None)
    if size is None:
        raise NotSized(
            f"{wire.id}: found the link {link.id} of {link.size.label} before it; expected a "
            "thinner link"
        )
    words = f"the link of {link.size.label} before it"
    return Requirement(condition=words, size=size, source=FOUR_NUMBERS, protects=True)


def _carrying(
    wire: Wire, ambient_c: float, current_a: float, standard: tuple[WireSize, ...]
) -> tuple[WireSize, str] | None:
    """The smallest standard size that may carry a current for good, and the source that says so."""
    for size in standard:
        allowed = allowable_current(size, wire.insulation.rated_c, ambient_c)
        if allowed.current_a >= current_a:
            return size, allowed.source
    return None
