"""What is true of a job, in flags and words, so that data files can say when a step applies."""

from collections import Counter
from collections.abc import Iterable, Mapping

from upgrade_planner.comparison.converting import conversions
from upgrade_planner.comparison.part_changes import (
    PartConverted,
    PartExchanged,
    PartGoes,
    PartKept,
)
from upgrade_planner.comparison.results import Comparison
from upgrade_planner.comparison.wire_changes import Added, Refitted, Rejoined, Resized
from upgrade_planner.configuration.kinds import Capability, Family
from upgrade_planner.configuration.model import Configuration, TerminalRef, Wire
from upgrade_planner.electrical.batteries import Cable, batteries_of, cables_of, posts_of
from upgrade_planner.electrical.network.unsolvable import NetworkError
from upgrade_planner.electrical.operating_points import operating_point
from upgrade_planner.electrical.performance import battery_current_a
from upgrade_planner.electrical.states import OFF
from upgrade_planner.planning.charging_facts import charging_flags, charging_words
from upgrade_planner.planning.ignition_facts import (
    IGNITION_ROLES,
    TIMING_ROLES,
    ignition_flags,
    ignition_words,
)

_REST_CELL_V = 12.4 / 6
"""Source: TM 5-3805-262-20 p. 5-142, 12.4 V at 75 % charge of a 12 V battery, six cells. [V]"""

_CELLS = {6.0: 3, 12.0: 6, 24.0: 12}
"""Cells of a lead-acid battery by the voltage it is called after."""

Facts = Mapping[str, bool | str | float]


def facts_of(comparison: Comparison) -> Facts:
    """Flags (`points_before`, `has_capped`, …) and words (`live`, `rest_voltage`, …) of a job."""
    before, after = comparison.before, comparison.after
    return {
        **_posts(before, ""),
        **_posts(after, "_after"),
        **_flags(comparison),
        "rest_voltage": _rest_voltage(before.vehicle.voltage_v),
        "rest_volts": _rest_v(before.vehicle.voltage_v),
        "rest_voltage_after": _rest_voltage(after.vehicle.voltage_v),
        "voltage_before": f"{before.vehicle.voltage_v:g}\N{NO-BREAK SPACE}V",
        "converted_parts": _converted_parts(comparison),
        "system_voltage": f"{after.vehicle.voltage_v:g}\N{NO-BREAK SPACE}V",
        **ignition_words(after),
        **charging_words(after),
        "capped_wires": _marks(comparison.capped_wires),
        "new_wires": _marks(_new_wires(comparison)),
        "rejoined_wires": _marks(_old_wires_again(comparison)),
        "parts_off": _parts_off(comparison),
        "standing_current": _standing_current(after),
    }


def _new_wires(comparison: Comparison) -> list[Wire]:
    return [change.after for change in comparison.wires if isinstance(change, Added | Resized)]


def _old_wires_again(comparison: Comparison) -> list[Wire]:
    return [change.after for change in comparison.wires if isinstance(change, Refitted | Rejoined)]


def _standing_current(configuration: Configuration) -> str:
    """What flows with the key off: the current of the first energising, as a meter shows it."""
    try:
        point = operating_point(configuration, OFF)
    except NetworkError:
        return "not computed"
    return f"{1000 * abs(battery_current_a(point)):.0f}\N{NO-BREAK SPACE}mA"


def _rest_v(system_v: float) -> float:
    """Least voltage at rest of a battery three quarters charged, as a meter shows it. [V]"""
    return round(_CELLS.get(system_v, round(system_v / 2)) * _REST_CELL_V, 1)


def _rest_voltage(system_v: float) -> str:
    return f"{_rest_v(system_v):.1f}\N{NO-BREAK SPACE}V"


def _converted_parts(comparison: Comparison) -> str:
    """Parts that are exchanged, or that something must be done to, as ground or voltage change."""
    if not conversions(comparison.before, comparison.after):
        return "none"
    names = [
        change.part.name
        for change in comparison.parts
        if isinstance(change, PartConverted | PartExchanged)
        or (
            isinstance(change, PartKept)
            and change.part.family is Family.DYNAMO
            and change.treatments
        )
    ]
    return "; ".join(names) if names else "none"


def _posts(configuration: Configuration, suffix: str) -> dict[str, str]:
    grounded = configuration.vehicle.ground
    posts = posts_of(configuration)
    loose = Counter(
        end for (_, end), at in cables_of(configuration).items() if at is Cable.GROUNDED
    )
    at_lamp = [post for post in posts.grounded if post in loose]
    one = all(count == 1 for count in loose.values())
    return {
        f"ground{suffix}": grounded,
        f"grounded_post{suffix}": _post_words(posts.grounded[:1], configuration),
        f"live_post{suffix}": _post_words(posts.live[:1], configuration),
        f"lamp_posts{suffix}": _post_words(at_lamp or posts.grounded[:1], configuration),
        f"loose_cables{suffix}": "its loose cable end" + ("" if one else "s, together"),
        f"grounded_battery{suffix}": posts.grounded[0].role if posts.grounded else "",
        f"the_battery{suffix}": "the" if len(batteries_of(configuration)) < 2 else "each",
    }


def _post_words(posts: Iterable[TerminalRef], configuration: Configuration) -> str:
    """The signs of posts, with the name of the battery where there are several."""
    signs = {"positive": "+", "negative": "−"}
    one = len(batteries_of(configuration)) < 2
    return ", then ".join(
        signs[post.terminal] + ("" if one else f" ({configuration.component(post.role).name})")
        for post in posts
    )


def _flags(comparison: Comparison) -> dict[str, bool]:
    before, after = comparison.before, comparison.after
    alternators = after.parts_of(Family.ALTERNATOR)
    charge_lamp = "charge_lamp" in after.component_by_role
    return {
        "twelve_volt": before.vehicle.voltage_v == 12.0 == after.vehicle.voltage_v,
        "ground_changes": before.vehicle.ground != after.vehicle.ground,
        "voltage_changes": before.vehicle.voltage_v != after.vehicle.voltage_v,
        "converted": bool(conversions(before, after)),
        **ignition_flags(comparison),
        **charging_flags(comparison),
        "bypass_after": any(wire.circuit == "start bypass" for wire in after.wires),
        "internal_regulator_after": any(part.can(Capability.REGULATES) for part in alternators),
        "alternator_after": bool(alternators),
        "dynamo_after": bool(after.parts_of(Family.DYNAMO)),
        "charge_lamp_after": charge_lamp,
        "no_charge_lamp_after": not charge_lamp,
        "ignition_changes": _changes(comparison, IGNITION_ROLES),
        "distributor_changes": _changes(comparison, TIMING_ROLES),
        "has_capped": bool(comparison.capped_wires),
        "has_new": bool(_new_wires(comparison)),
        "has_rejoined": bool(_old_wires_again(comparison)),
        "has_parts_off": _parts_off(comparison) != "none",
    }


def _changes(comparison: Comparison, roles: tuple[str, ...]) -> bool:
    return any(
        change.role in roles and not isinstance(change, PartKept) for change in comparison.parts
    )


def _marks(wires: Iterable[Wire]) -> str:
    ids = sorted({wire.id for wire in wires})
    return ", ".join(ids) if ids else "none"


def _parts_off(comparison: Comparison) -> str:
    names = [
        change.before.name
        for change in comparison.parts
        if isinstance(change, PartGoes) and not change.part.can(Capability.MADE_OF_WIRE)
    ]
    return "; ".join(names) if names else "none"
