"""Which shipped configurations an upgrade leads to or starts from, and what each would change."""

import json
from collections import Counter
from collections.abc import Sequence
from textwrap import fill
from typing import Any

from attrs import evolve, frozen

from upgrade_planner.checks.checking import check
from upgrade_planner.checks.findings import Finding, Severity
from upgrade_planner.comparison.comparing import compare
from upgrade_planner.comparison.part_changes import PartDisposition
from upgrade_planner.comparison.results import Comparison
from upgrade_planner.comparison.wire_changes import Disposition
from upgrade_planner.configuration.model import Configuration
from upgrade_planner.documents.terminal.console import console
from upgrade_planner.documents.terminal.finds import Filters, find, print_left_out
from upgrade_planner.documents.words.findings import title_words
from upgrade_planner.documents.worksheet.stage_pages import hours_words
from upgrade_planner.electrical.sizing import load_sized, sized
from upgrade_planner.errors import PlannerError
from upgrade_planner.kit.labour import labour
from upgrade_planner.library.collected import LeftOut, Say, Shipped, load_library
from upgrade_planner.library.fitting import configurations_of, shipped_uses
from upgrade_planner.planning.plan import Plan, plan_for

WIDEST = 100
"""Characters of a line for reading."""

_WIRE_WORDS = {
    Disposition.REMOVE: "removed",
    Disposition.ADD: "added",
    Disposition.RESIZE: "resized",
    Disposition.MOVE: "moved",
    Disposition.CAP_OFF: "capped off",
}
_PART_WORDS = {
    PartDisposition.REMOVE: "removed",
    PartDisposition.ADD: "added",
    PartDisposition.REPLACE: "replaced",
    PartDisposition.RELOCATE: "relocated",
    PartDisposition.ADJUST: "with other fuses",
}


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


def shipped_upgrades(
    name: str, filters: Filters, *, is_from: bool, say: Say = lambda _: None
) -> Upgrades:
    """
    What upgrades lead from, or to, a configuration: the call behind `list --from` and `--to`.

    Args:
        name: Name or path of the configuration.
        filters: Traits that the other end must have.
        is_from: True if `name` is what is there now.
        say: Told what is being done.

    Raises:
        PlannerError: no such configuration, a faulty one, or a filter that cannot be read.
    """
    (anchor,) = load_sized(name)
    names = configurations_of(anchor.vehicle.name)
    library = load_library(say, names)
    shipped = find(library, filters).shipped if filters else library.shipped
    others = len(shipped_uses()) - len(names)
    found = upgrades_of(anchor, shipped, is_from=is_from, other_vehicles=others, say=say)
    return evolve(found, left_out=(*library.left_out, *found.left_out))


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
    dangers = tuple(f for f in _findings(comparison.after) if f.severity is Severity.DANGER)
    return Upgrade(name=one.name, title=one.configuration.title, plan=plan, dangers=dangers)


_checked: dict[str, tuple[Finding, ...]] = {}


def _findings(configuration: Configuration) -> tuple[Finding, ...]:
    """Findings of a target; computed once where many upgrades lead to the same."""
    key = configuration.digest
    if key not in _checked:
        _checked[key] = check(configuration)
    return _checked[key]


def effort_words(plan: Plan) -> str:
    """How much work it is, in one phrase."""
    return f"{len(plan.steps)} steps, about {hours_words(labour(plan).total)}"


def change_words(comparison: Comparison) -> str:
    """Wires and parts that do not stay as they are, counted."""
    wires = [(comparison.count(sort), words) for sort, words in _WIRE_WORDS.items()]
    counts = Counter(part.disposition for part in comparison.parts)
    parts = [(counts[sort], words) for sort, words in _PART_WORDS.items()]
    return f"wires: {_counted(wires)}; parts: {_counted(parts)}"


def _counted(counts: Sequence[tuple[int, str]]) -> str:
    return ", ".join(f"{count} {words}" for count, words in counts if count) or "none"


def danger_words(dangers: Sequence[Finding]) -> str:
    """Whether a danger stands in the target, in one phrase."""
    if not dangers:
        return "no danger found in the target"
    titles = "; ".join(dict.fromkeys(title_words(finding) for finding in dangers))
    return f"DANGER in the target ({len(dangers)}): {titles}"


def print_upgrades(upgrades: Upgrades, name: str) -> None:
    """
    Each upgrade in a few lines, the least work first, those with a danger last.

    Args:
        upgrades: What was found.
        name: The configuration asked about, as the person named it.
    """
    out = console()

    def show(text: str) -> None:
        out.print(fill(text, min(out.width, WIDEST), subsequent_indent="    "))

    anchor = upgrades.anchor
    way = "Upgrades from" if upgrades.is_from else "Upgrades to"
    show(f"{way} {name} ({anchor.vehicle.title}: {anchor.title})")
    for upgrade in upgrades.upgrades:
        show("")
        show(f"{upgrade.name}: {upgrade.title}")
        if upgrade.comparison.is_empty:
            show(f"  the same wiring, nothing to do; {danger_words(upgrade.dangers)}")
            continue
        show(f"  {change_words(upgrade.comparison)}")
        show(f"  {effort_words(upgrade.plan)}")
        show(f"  {danger_words(upgrade.dangers)}")
    if not upgrades.upgrades:
        show("None: no other shipped configuration of this vehicle can be compared.")
    show("")
    print_left_out(upgrades.left_out)
    if upgrades.other_vehicles:
        show(f"{upgrades.other_vehicles} configurations of other vehicles cannot be compared.")
    if upgrades.upgrades:
        pair = (name, "AFTER") if upgrades.is_from else ("BEFORE", name)
        show(f"The sheet: upgrade-planner worksheet {pair[0]} {pair[1]} -o sheet.pdf")


def upgrades_json(upgrades: Upgrades) -> str:
    """The upgrades as JSON text."""
    data = {
        "format": "upgrade-planner upgrades",
        "version": 1,
        "from" if upgrades.is_from else "to": upgrades.anchor.name,
        "upgrades": [_upgrade_data(upgrade) for upgrade in upgrades.upgrades],
        "left_out": [{"name": one.name, "reason": one.reason} for one in upgrades.left_out],
        "other_vehicles": upgrades.other_vehicles,
    }
    return json.dumps(data, indent=1, ensure_ascii=False, sort_keys=True) + "\n"


def _upgrade_data(upgrade: Upgrade) -> dict[str, Any]:
    comparison = upgrade.comparison
    return {
        "name": upgrade.name,
        "title": upgrade.title,
        "wires": {str(sort): comparison.count(sort) for sort in Disposition},
        "parts": dict(Counter(str(part.disposition) for part in comparison.parts)),
        "steps": len(upgrade.plan.steps),
        "hours": dict(
            zip(("low", "likely", "high"), labour(upgrade.plan).total.hours, strict=True)
        ),
        "dangers": [title_words(finding) for finding in upgrade.dangers],
    }
