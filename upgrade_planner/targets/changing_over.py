"""What a change of voltage or ground asks of the parts that stay, as edits of a target."""

from collections.abc import Iterator, Mapping

from attrs import evolve

from upgrade_planner.configuration.kinds import Capability, Family
from upgrade_planner.configuration.model import Component, Configuration, Connection
from upgrade_planner.configuration.registry import kinds
from upgrade_planner.configuration.values.measures import Quantity, ampere, ohm, volt
from upgrade_planner.configuration.values.quantities import Dimension
from upgrade_planner.targets.wish_edits import Decision, Edit, EditKey, NewName, Target, Value

AWAY_RATIO = 1.35
"""Rated voltage that is off the system's by this ratio is another voltage. Our assumption."""

VOLTS, AMPS, OHMS = "voltage", "current", "resistance"

KEEPS_RATINGS = frozenset(
    {Family.SWITCH, Family.RELAY, Family.JOINT, Family.PROTECTION, Family.AMMETER}
)
"""Families whose ratings say what they bear and not what they are made for."""

FOR_ONE_VOLTAGE = frozenset({Family.BATTERY, Family.COIL, Family.STARTER})
"""Families whose parts are made for one voltage, whether or not a profile says for which."""

BALLAST = "ballast"

STARTER_KEPT = (6.0, 12.0)
"""Voltages before and after at which a starter stays. [V] Source: common practice, conversion of
farm tractors."""

TRIGGER = "trigger_distributor"
LEADS = {"supply": "feed lead", "coil": "coil lead"}
"""Marks of a trigger module that is not the common one: what is printed + there would go to the
live post, which is the negative one."""

EXCHANGED = ("negative ground only", "positive ground only")


def for_voltage(part: Component, before_v: float, after_v: float) -> Edit | None:
    """
    A part exchanged for one that does the same on another voltage; None if it minds none.

    Its power stays: volts rise as the system does, amperes fall, ohms go with the square. A coil
    and its ballast keep their current, a battery the space in its tray.
    """
    rated = part.ratings.get("rated_voltage")
    made_for = float(rated) if rated is not None else before_v
    if not minds_voltage(part) or not is_other_voltage(made_for, after_v):
        return None
    if part.family is Family.STARTER and (made_for, after_v) == STARTER_KEPT:
        return None
    ratio = after_v / made_for
    changed: dict[str, Value] = dict(_scaled(part, ratio))
    if rated is not None or "rated_voltage" in kinds()[part.kind].ratings:
        changed["rated_voltage"] = volt(after_v)
    called = NewName(code="for-voltage", old=part.name, facts={"voltage": volt(after_v)})
    return Edit(
        table=EditKey.CHANGE_PART,
        name=part.role,
        values={"ratings": changed},
        why="made-for-voltage",
        called=called,
    )


def minds_voltage(part: Component) -> bool:
    """True for what works at a voltage, or makes one."""
    is_for_one = part.family in FOR_ONE_VOLTAGE or part.role == BALLAST
    return is_for_one or part.can(Capability.REGULATES) or "rated_voltage" in part.ratings


def is_other_voltage(rated_v: float, system_v: float) -> bool:
    """True if a part for one voltage is not right for the other."""
    return not 1 / AWAY_RATIO < rated_v / system_v < AWAY_RATIO


def _scaled(part: Component, ratio: float) -> Iterator[tuple[str, Quantity]]:
    words = kinds()[part.kind].ratings
    if part.family in KEEPS_RATINGS:
        return
    keeps_current = part.family is Family.COIL or part.role == BALLAST
    squared = ratio if keeps_current else ratio**2
    for name, value in part.ratings.items():
        word = words.get(name, "").rstrip("!")
        if name == "rated_voltage" or isinstance(value, str) or not isinstance(value, float | int):
            continue
        if word == VOLTS:
            yield name, volt(value * ratio)
        elif name == "capacity":
            yield name, Quantity(value / ratio, Dimension.CHARGE)
        elif word == AMPS and not part.can(Capability.CHARGES):
            yield name, ampere(value / ratio)
        elif word == OHMS:
            yield name, ohm(value * squared)


def turned_over(
    target: Configuration, car: Configuration, chosen: Mapping[str, str]
) -> tuple[tuple[Edit, ...], tuple[Decision, ...]]:
    """
    Edits for all parts that mind the change, and what the owner must decide.

    Args:
        target: The car with the new voltage or ground and nothing else done about it.
        car: The car as it is.
        chosen: Systems that are new in the target, by slot: they come for its voltage.
    """
    edits: list[Edit] = []
    questions: list[Decision] = []
    before_v, after_v = car.vehicle.voltage_v, target.vehicle.voltage_v
    for part in target.components:
        is_new = part.slot in chosen
        edit = None
        if before_v != after_v and not (is_new and "rated_voltage" not in part.ratings):
            edit = for_voltage(part, before_v, after_v)
            questions += _asked(part, before_v, after_v)
        edits += [edit] if edit else []
        if car.vehicle.ground != target.vehicle.ground and not is_new:
            edits += for_ground(part, target)
    return tuple(edits), tuple(questions)


def for_ground(part: Component, target: Configuration) -> list[Edit]:
    """A part that is made for the other ground, exchanged for the version for this one."""
    polarity = part.ratings.get("polarity")
    right = f"{target.vehicle.ground} ground only"
    if polarity not in EXCHANGED or polarity == right:
        return []
    called = NewName(code="for-ground", old=part.name, facts={"ground": target.vehicle.ground})
    values: dict[str, Value] = {"ratings": {"polarity": right}}
    if part.rebuilt_with:
        values["rebuilt_with"] = evolve(called, old=part.rebuilt_with)
    if part.kind == TRIGGER:
        values["terminals"] = tuple(
            {
                "name": terminal.name,
                "label": LEADS.get(terminal.name, terminal.label),
                "connection": connection_text(terminal.connection),
            }
            for terminal in part.terminals
        )
    return [
        Edit(
            table=EditKey.CHANGE_PART,
            name=part.role,
            values=values,
            why="made-for-ground",
            called=called,
        )
    ]


def rated_output(plain: Configuration, wish: Target) -> list[Edit]:
    """The new machine with the output that is wished."""
    if wish.output_a is None or "charging" not in wish.systems:
        return []
    machines = plain.parts_that(Capability.CHARGES)
    return [with_output(part, wish.output_a, "wished") for part in machines]


def with_output(part: Component, output_a: float, why: str) -> Edit:
    """A machine with another rated output; at idle it gives the same share of it."""
    share = output_a / float(part.ratings["rated_output"])
    ratings: dict[str, Value] = {"rated_output": ampere(output_a)}
    if "idle_output" in part.ratings:
        ratings["idle_output"] = ampere(part.ratings["idle_output"] * share)
    called = NewName(code="with-output", old=part.name, facts={"output": ampere(output_a)})
    return Edit(
        table=EditKey.CHANGE_PART,
        name=part.role,
        values={"ratings": ratings},
        why=why,
        called=called,
    )


def _asked(part: Component, before_v: float, after_v: float) -> Iterator[Decision]:
    facts: dict[str, Value] = {"before": volt(before_v), "after": volt(after_v)}
    if part.family is Family.STARTER:
        kept = (before_v, after_v) == STARTER_KEPT
        code = "starter-kept" if kept else "starter-exchanged"
        yield Decision(code=code, role=part.role, facts=facts)
    elif part.family is Family.COIL and minds_voltage(part):
        yield Decision(code="coil-exchanged", role=part.role, facts=facts)
    elif part.family is Family.GAUGE:
        yield Decision(code="gauge-exchanged", role=part.role, facts=facts)
    elif part.family is Family.LOAD:
        yield Decision(code="load-exchanged", role=part.role, facts=facts)
    elif part.can(Capability.CHARGES) and is_other_voltage(
        float(part.ratings.get("rated_voltage", before_v)), after_v
    ):
        yield Decision(code="machine-exchanged", role=part.role, facts=facts)


def connection_text(connection: Connection) -> str:
    """The hardware of a terminal as a profile writes it."""
    return connection.label.replace("\N{NO-BREAK SPACE}", " ")
