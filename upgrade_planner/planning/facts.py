"""What is true of a job, as flags and values, so that data files can say when a step applies."""

from collections import Counter
from collections.abc import Iterable, Mapping

from upgrade_planner.checks.grounds import has_isolator_in_ground
from upgrade_planner.comparison.converting import conversions
from upgrade_planner.comparison.part_changes import (
    PartConverted,
    PartExchanged,
    PartFitted,
    PartGoes,
    PartKept,
    PartRebuilt,
)
from upgrade_planner.comparison.results import Comparison
from upgrade_planner.comparison.wire_changes import Added, Refitted, Rejoined, Resized
from upgrade_planner.configuration.kinds import Capability, Family
from upgrade_planner.configuration.model import Component, Configuration, TerminalRef, Wire
from upgrade_planner.configuration.values.measures import Quantity, ampere, metre, volt
from upgrade_planner.electrical.batteries import (
    Cable,
    batteries_of,
    cables_of,
    posts_of,
    second_returns,
)
from upgrade_planner.electrical.network.unsolvable import NetworkError
from upgrade_planner.electrical.operating_points import operating_point
from upgrade_planner.electrical.performance import battery_current_a
from upgrade_planner.electrical.states import OFF
from upgrade_planner.planning.ammeter_facts import ammeter_facts
from upgrade_planner.planning.caring import burnt
from upgrade_planner.planning.charging_facts import charging_flags, charging_names
from upgrade_planner.planning.fact_values import Facts, Numbered, Post
from upgrade_planner.planning.ignition_facts import (
    IGNITION_ROLES,
    TIMING_ROLES,
    ignition_flags,
    ignition_names,
)
from upgrade_planner.planning.touched import touched_flags
from upgrade_planner.planning.vehicle_facts import vehicle_facts

_REST_CELL_V = 12.4 / 6
"""Source: TM 5-3805-262-20 p. 5-142, 12.4 V at 75 % charge of a 12 V battery, six cells. [V]"""

FROM_FUEL_M = 0.15
"""Least distance of a wire from a fuel pipe. [m] Source: FAA AC 43.13-1B Change 1."""

FROM_FUEL_CLAMPED_M = 0.05
"""The same with close clamping. [m] Source: as `FROM_FUEL_M`."""

_CELLS = {6.0: 3, 12.0: 6, 24.0: 12}
"""Cells of a lead-acid battery by the voltage it is called after."""


def facts_of(comparison: Comparison) -> Facts:
    """Flags (`points_before`, `has_new`) and values (`live_post`, `rest_voltage`, …) of a job."""
    before, after = comparison.before, comparison.after
    return {
        **_posts(before, ""),
        **_posts(after, "_after"),
        **_flags(comparison),
        "rest_voltage": _rest_voltage(before.vehicle.voltage_v),
        "rest_voltage_after": _rest_voltage(after.vehicle.voltage_v),
        "voltage_before": volt(before.vehicle.voltage_v),
        "converted_parts": _converted_parts(comparison),
        "system_voltage": volt(after.vehicle.voltage_v),
        **ignition_names(after),
        **charging_names(comparison),
        **vehicle_facts(comparison),
        **ammeter_facts(comparison),
        "capped_wires": _marks(comparison.capped_wires, comparison.numbers.old),
        "burnt": tuple(_name(item) for item in burnt(before)),
        "new_wires": _marks(_new_wires(comparison), comparison.numbers.new),
        "rejoined_wires": _marks(_old_wires_again(comparison), comparison.numbers.new),
        "second_returns": tuple(sorted(second_returns(after))),
        "parts_off": parts_off(comparison),
        "standing_current": _standing_current(after),
        "from_fuel": metre(FROM_FUEL_M),
        "from_fuel_clamped": metre(FROM_FUEL_CLAMPED_M),
    }


def _new_wires(comparison: Comparison) -> list[Wire]:
    return [change.after for change in comparison.wires if isinstance(change, Added | Resized)]


def _old_wires_again(comparison: Comparison) -> list[Wire]:
    return [change.after for change in comparison.wires if isinstance(change, Refitted | Rejoined)]


def _standing_current(configuration: Configuration) -> Quantity | None:
    """What flows with the key off: the current of the first energising; None without solution."""
    try:
        point = operating_point(configuration, OFF)
    except NetworkError:
        return None
    return ampere(abs(battery_current_a(point)))


def _rest_voltage(system_v: float) -> Quantity:
    """Least voltage at rest of a battery three quarters charged."""
    return volt(_CELLS.get(system_v, system_v / 2) * _REST_CELL_V)


def _converted_parts(comparison: Comparison) -> tuple[str, ...]:
    """Parts that are exchanged, or that something must be done to, as ground or voltage change."""
    if not conversions(comparison.before, comparison.after):
        return ()
    return tuple(
        change.part.name
        for change in comparison.parts
        if isinstance(change, PartConverted | PartExchanged)
        or (
            isinstance(change, PartKept)
            and change.part.family is Family.DYNAMO
            and change.treatments
        )
    )


def _posts(configuration: Configuration, suffix: str) -> Facts:
    grounded = configuration.vehicle.ground
    posts = posts_of(configuration)
    loose = Counter(
        end for (_, end), at in cables_of(configuration).items() if at is Cable.GROUNDED
    )
    at_lamp = [post for post in posts.grounded if post in loose]
    return {
        f"ground{suffix}": grounded,
        f"grounded_post{suffix}": _named_posts(posts.grounded[:1], configuration),
        f"live_post{suffix}": _named_posts(posts.live[:1], configuration),
        f"lamp_posts{suffix}": _named_posts(at_lamp or posts.grounded[:1], configuration),
        f"several_loose_cables{suffix}": any(count > 1 for count in loose.values()),
        f"grounded_battery{suffix}": posts.grounded[0].role if posts.grounded else "",
        f"one_battery{suffix}": len(batteries_of(configuration)) < 2,
    }


def _named_posts(posts: Iterable[TerminalRef], configuration: Configuration) -> tuple[Post, ...]:
    several = len(batteries_of(configuration)) > 1
    return tuple(
        Post(post.terminal, configuration.component(post.role).name if several else "")
        for post in posts
    )


def _battery_comes(comparison: Comparison) -> bool:
    """True if a battery is fitted that the vehicle has not got yet."""
    return any(
        change.part.family is Family.BATTERY and isinstance(change, PartFitted | PartExchanged)
        for change in comparison.parts
    )


def _flags(comparison: Comparison) -> dict[str, bool]:
    before, after = comparison.before, comparison.after
    alternators = after.parts_of(Family.ALTERNATOR)
    charge_lamp = "charge_lamp" in after.component_by_role
    return {
        "twelve_volt": after.vehicle.voltage_v == 12.0,
        "six_volt": after.vehicle.voltage_v == 6.0,
        "isolator_in_ground_after": has_isolator_in_ground(after),
        "battery_comes": _battery_comes(comparison),
        "battery_stays": not _battery_comes(comparison),
        "second_return": bool(second_returns(after)),
        "ground_changes": before.vehicle.ground != after.vehicle.ground,
        "voltage_changes": before.vehicle.voltage_v != after.vehicle.voltage_v,
        "converted": bool(conversions(before, after)),
        **ignition_flags(comparison),
        **charging_flags(comparison),
        **touched_flags(comparison),
        "bypass_after": any(wire.circuit == "start bypass" for wire in after.wires),
        "internal_regulator_after": any(part.can(Capability.REGULATES) for part in alternators),
        "alternator_after": bool(alternators),
        "dynamo_after": bool(after.parts_of(Family.DYNAMO)),
        "charge_lamp_after": charge_lamp,
        "no_charge_lamp_after": not charge_lamp,
        "ignition_changes": _changes(comparison, IGNITION_ROLES),
        "distributor_changes": _changes(comparison, TIMING_ROLES),
        "stronger_spark": _has_stronger_spark(before, after),
        "has_capped": bool(comparison.capped_wires),
        "has_burnt": bool(burnt(before)),
        "has_new": bool(_new_wires(comparison)),
        "has_rejoined": bool(_old_wires_again(comparison)),
        "has_parts_off": bool(parts_off(comparison)),
    }


def _has_stronger_spark(before: Configuration, after: Configuration) -> bool:
    """True if an electronic ignition comes where there was none."""
    units = (Family.IGNITION_UNIT, Family.IGNITION_MODULE, Family.COIL_PACK)
    return bool(after.parts_of(*units)) and not before.parts_of(*units)


def _changes(comparison: Comparison, roles: tuple[str, ...]) -> bool:
    return any(
        change.role in roles and not isinstance(change, PartKept) for change in comparison.parts
    )


def _name(item: Wire | Component) -> str:
    return item.id if isinstance(item, Wire) else item.name


def _marks(wires: Iterable[Wire], numbers: Mapping[str, int]) -> tuple[Numbered, ...]:
    return tuple(sorted({Numbered(numbers[wire.id], wire.id) for wire in wires}))


def parts_off(comparison: Comparison) -> tuple[str, ...]:
    """Names of parts that are left over, and of what comes out of parts that stay."""
    whole = tuple(
        change.before.name
        for change in comparison.parts
        if isinstance(change, PartGoes) and not change.part.can(Capability.MADE_OF_WIRE)
    )
    rebuilt = (change for change in comparison.parts if isinstance(change, PartRebuilt))
    return (*whole, *(change.leaves for change in rebuilt if change.leaves))
