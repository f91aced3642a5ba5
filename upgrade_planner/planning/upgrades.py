"""Which configurations an upgrade leads to or starts from, and what each would change."""

from collections.abc import Sequence

from upgrade_planner.attributes import frozen
from upgrade_planner.checks.checking import check
from upgrade_planner.checks.findings import Finding, Severity
from upgrade_planner.comparison.comparing import compare
from upgrade_planner.comparison.results import Comparison
from upgrade_planner.configuration.model import Configuration
from upgrade_planner.electrical.sizing import sized
from upgrade_planner.errors import PlannerError
from upgrade_planner.library.collected import LeftOut, Say, Shipped
from upgrade_planner.planning.plan import Plan, plan_for


@frozen(kw_only=True, eq=False)
class Upgrade:
    """
    One way from a configuration to another.

    Attributes:
        name: The other configuration: target of `--from`, start of `--to`.
        plan: What would have to be done.
        dangers: Danger findings that stand in the target.
    """

    name: str
    title: str
    plan: Plan
    dangers: tuple[Finding, ...]

    @property
    def comparison(self) -> Comparison:
        """What would change."""
        return self.plan.comparison


@frozen(kw_only=True, eq=False)
class Upgrades:
    """
    All ways from, or to, one configuration.

    Attributes:
        other_vehicles: How many shipped configurations are of vehicles that cannot be compared.
    """

    anchor: Configuration
    is_from: bool
    upgrades: tuple[Upgrade, ...]
    left_out: tuple[LeftOut, ...]
    other_vehicles: int


def upgrades_of(
    anchor: Configuration,
    shipped: Sequence[Shipped],
    *,
    is_from: bool,
    other_vehicles: int = 0,
    say: Say = lambda _: None,
) -> Upgrades:
    """
    What upgrades lead from a configuration to shipped ones, or from shipped ones to it.

    Args:
        anchor: The configuration, sizes chosen.
        shipped: The other ends that may be meant.
        other_vehicles: How many were not even read, for they are of other vehicles.
        is_from: True if the anchor is what is there now.
        say: Told what is being computed.
    """
    found, left_out = [], []
    for one in shipped:
        if one.configuration.digest == anchor.digest and one.name == anchor.name:
            continue
        say(f"comparing {one.name}")
        try:
            upgrade = _upgrade(anchor, one, is_from=is_from)
        except PlannerError as error:
            left_out.append(LeftOut(name=one.name, reason=str(error).splitlines()[0]))
        else:
            found.append(upgrade)
    return Upgrades(
        anchor=anchor,
        is_from=is_from,
        upgrades=tuple(sorted(found, key=lambda u: (bool(u.dangers), len(u.plan.steps), u.name))),
        left_out=tuple(left_out),
        other_vehicles=other_vehicles,
    )


def _upgrade(anchor: Configuration, one: Shipped, *, is_from: bool) -> Upgrade:
    other = sized(one.configuration)[0]
    comparison = compare(anchor, other) if is_from else compare(other, anchor)
    plan = plan_for(comparison)
    dangers = tuple(f for f in check(comparison.after) if f.severity is Severity.DANGER)
    return Upgrade(name=one.name, title=one.configuration.title, plan=plan, dangers=dangers)
