"""Upgrades from or to a configuration on the screen and as data."""

from collections import Counter
from collections.abc import Sequence
from textwrap import fill

from upgrade_planner.checks.findings import Finding
from upgrade_planner.comparison.part_changes import PartDisposition
from upgrade_planner.comparison.results import Comparison
from upgrade_planner.comparison.wire_changes import Disposition
from upgrade_planner.documents.shared.data_text import data_text
from upgrade_planner.documents.terminal.console import console
from upgrade_planner.documents.terminal.finds import print_left_out
from upgrade_planner.documents.terminal.list_shapes import (
    UPGRADES,
    UpgradeData,
    UpgradesData,
)
from upgrade_planner.documents.terminal.spoken import said
from upgrade_planner.documents.words.amounts import hours_range_words
from upgrade_planner.documents.words.english import english_for
from upgrade_planner.documents.words.findings import title_words
from upgrade_planner.kit.labour import labour
from upgrade_planner.planning.plan import Plan
from upgrade_planner.planning.upgrades import Upgrade, Upgrades

WIDEST = 100
"""Characters of a line for reading."""

_WIRE_WORDS = {
    Disposition.REMOVE: "removed",
    Disposition.ADD: "added",
    Disposition.RESIZE: "resized",
    Disposition.RENEW: "renewed",
    Disposition.MOVE: "moved",
    Disposition.CAP_OFF: "capped off",
}
_PART_WORDS = {
    PartDisposition.REMOVE: "removed",
    PartDisposition.ADD: "added",
    PartDisposition.REPLACE: "replaced",
    PartDisposition.RELOCATE: "relocated",
    PartDisposition.ADJUST: "with other fuses",
    PartDisposition.REBUILD: "rebuilt",
}


def effort_words(plan: Plan) -> str:
    """How much work it is, in one phrase."""
    return f"{len(plan.steps)} steps, about {hours_range_words(labour(plan).total)}"


def change_words(comparison: Comparison) -> str:
    """Wires and parts that do not stay as they are, counted."""
    wires = [(comparison.count(fate), words) for fate, words in _WIRE_WORDS.items()]
    counts = Counter(part.disposition for part in comparison.parts)
    parts = [(counts[fate], words) for fate, words in _PART_WORDS.items()]
    return f"wires: {_counted(wires)}; parts: {_counted(parts)}"


def _counted(counts: Sequence[tuple[int, str]]) -> str:
    return ", ".join(f"{count} {words}" for count, words in counts if count) or "none"


def danger_words(dangers: Sequence[Finding]) -> str:
    """Whether a danger stands in the target, in one phrase."""
    if not dangers:
        return "no danger found in the target"
    titles = "; ".join(dict.fromkeys(title_words(finding) for finding in dangers))
    return f"DANGER in the target ({len(dangers)}): {titles}"


def print_upgrades(upgrades: Upgrades, name: str, english: str = "") -> None:
    """
    Each upgrade in a few lines, the least work first, those with a danger last.

    Args:
        upgrades: What was found.
        name: The configuration asked about, as the person named it.
        english: `us` or `uk`; else that of the trade the wires of the vehicle come from.
    """
    out = console()
    spoken = english_for(english, upgrades.anchor.vehicle)

    def show(text: str) -> None:
        out.print(fill(said(text, spoken), min(out.width, WIDEST), subsequent_indent="    "))

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
    print_left_out(upgrades.left_out, spoken)
    if upgrades.other_vehicles:
        show(f"{upgrades.other_vehicles} configurations of other vehicles cannot be compared.")
    if upgrades.upgrades:
        pair = (name, "AFTER") if upgrades.is_from else ("BEFORE", name)
        show(f"The sheet: upgrade-planner worksheet {pair[0]} {pair[1]} -o sheet.pdf")


def upgrades_json(upgrades: Upgrades) -> str:
    """The upgrades as JSON text."""
    data: UpgradesData = {
        "upgrades": [_upgrade_data(upgrade) for upgrade in upgrades.upgrades],
        "left_out": [{"name": one.name, "reason": one.reason} for one in upgrades.left_out],
        "other_vehicles": upgrades.other_vehicles,
    }
    data["from" if upgrades.is_from else "to"] = upgrades.anchor.name
    return data_text(UPGRADES, data)


def _upgrade_data(upgrade: Upgrade) -> UpgradeData:
    low, likely, high = labour(upgrade.plan).total.hours
    comparison = upgrade.comparison
    return {
        "name": upgrade.name,
        "title": upgrade.title,
        "wires": {str(fate): comparison.count(fate) for fate in Disposition},
        "parts": dict(Counter(str(part.disposition) for part in comparison.parts)),
        "steps": len(upgrade.plan.steps),
        "hours": {"low": low, "likely": likely, "high": high},
        "dangers": [title_words(finding) for finding in upgrade.dangers],
    }
