"""What a job commonly needs besides what is computed, from data by the kind of change."""

from collections.abc import Iterator, Mapping
from typing import Any

from upgrade_planner.attributes import frozen
from upgrade_planner.configuration.files.own_data import data_table
from upgrade_planner.configuration.kinds import Capability, Family
from upgrade_planner.configuration.model import Component
from upgrade_planner.kit.fitted_parts import FUSE
from upgrade_planner.kit.materials import consumption
from upgrade_planner.planning.operations import FitPart
from upgrade_planner.planning.plan import Plan


@frozen(kw_only=True)
class CommonNeed:
    """
    Something that nobody can compute from the wiring and most jobs of the kind need.

    Attributes:
        code: Our own word for it; the sentence is found by it.
        names: What it is for: parts by name, ratings of fuses in amperes, a count.
    """

    code: str
    names: tuple[str, ...] = ()


def common_needs(plan: Plan) -> tuple[CommonNeed, ...]:
    """What a job commonly needs, in the order of the data; nothing for a job without steps."""
    return tuple(_found(plan)) if plan.steps else ()


def _found(plan: Plan) -> Iterator[CommonNeed]:
    for entry in data_table(__package__, "common_needs.toml")["need"]:
        if not _applies(entry, plan):
            continue
        names = _names(plan)[entry["names"]] if "names" in entry else ()
        if names or "names" not in entry:
            yield CommonNeed(code=entry["code"], names=names)


def _applies(entry: Mapping[str, Any], plan: Plan) -> bool:
    when = entry.get("when", ())
    return not when or any(plan.facts[name] for name in when)


def _names(plan: Plan) -> Mapping[str, tuple[str, ...]]:
    new = [op.part for op in plan.operations if isinstance(op, FitPart) and not op.from_bag]
    taken = [m for found in consumption(plan).values() for m in found]
    fuses = {m.article.trait("rating") for m in taken if m.article.sort == FUSE}
    blades = sum(m.quantity for m in taken if m.article.sort == "blade receptacle")
    return {
        "fuses": tuple(sorted(fuses, key=lambda rating: float(rating.split()[0]))),
        "mounted": tuple(part.name for part in new if _wants_a_place(part)),
        "hot": tuple(part.name for part in new if part.family is Family.RESISTOR),
        "blades": (str(int(blades)),) if blades else (),
    }


def _wants_a_place(part: Component) -> bool:
    """True for what no part of the vehicle has a seat for: joints, fuse holders, relays."""
    loose = (Family.PROTECTION, Family.JOINT, Family.RELAY, Family.DIODE)
    return part.family in loose and not part.can(Capability.MADE_OF_WIRE)
