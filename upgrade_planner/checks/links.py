"""Rules on fusible links: the right size for what is behind them, and made as a link must be."""

from collections import defaultdict
from collections.abc import Iterator

from upgrade_planner.checks.examined import Examined
from upgrade_planner.checks.findings import Finding, Severity, worded
from upgrade_planner.checks.protection import is_safe_by_resistance, judged, output_ways, plain
from upgrade_planner.configuration.model import Conductor, Wire
from upgrade_planner.electrical.branches import Guard
from upgrade_planner.electrical.fusible_links import (
    LINK_GREATEST_LENGTH_M,
    link_for,
    sustained_melting_current_of,
    wire_protected_by,
)
from upgrade_planner.electrical.states import Engine

LINK_LOAD_RATIO = 0.5
"""A link that carries more of its melting current than this ages and opens. Source: our
assumption."""


def link_too_big(examined: Examined) -> Iterator[Finding]:
    """A link less than four gauge numbers thinner than the thinnest wire that it guards."""
    behind: dict[str, list[Wire]] = defaultdict(list)
    for feed in judged(examined):
        guards = [branch for branch in feed.way if branch.guard is not Guard.NONE]
        is_behind = bool(guards) and guards[-1].guard is Guard.LINK
        if is_behind and not is_safe_by_resistance(feed, examined):
            behind[plain(guards[-1])].append(feed.wire)
    for link_id, wires in sorted(behind.items()):
        link = examined.configuration.wire_by_id[link_id]
        least = wire_protected_by(link.size)
        thin = [w for w in wires if least is None or w.size.area_mm2 < least.area_mm2 * 0.99]
        if thin:
            thinnest = min(thin, key=lambda wire: wire.size)
            fitting = link_for(thinnest.size)
            yield worded(
                code="PROT-LINK-BIG",
                title="Fusible link too big",
                severity=Severity.WARNING,
                where=(link_id, *(wire.id for wire in thin)),
                what=f"The link of {link.size.label} guards {thinnest.size.label} "
                f"({thinnest.id}); it may guard {least.label if least else 'no size'} and more.",
                remedy=f"Give {thinnest.id} a fuse or a link of its own"
                + (f" ({fitting.label})." if fitting else "."),
                source="common practice: four gauge numbers smaller than the wire",
            )


def link_badly_made(examined: Examined) -> Iterator[Finding]:
    """A link that is too long, in ordinary insulation, or inside the cabin."""
    configuration = examined.configuration
    for wire in configuration.wires:
        if wire.conductor is not Conductor.LINK:
            continue
        length_m = configuration.runs[wire.id].length_m
        if length_m > LINK_GREATEST_LENGTH_M + 1e-9:
            what = f"{length_m * 1000:.0f} mm long; at most {LINK_GREATEST_LENGTH_M * 1000:.0f} mm."
            yield _bad_link("PROT-LINK-LONG", "Fusible link too long", wire, what)
        if wire.insulation.name != "LINK":
            what = f"Its insulation is {wire.insulation.name}, which burns."
            yield _bad_link("PROT-LINK-INSULATION", "Link in ordinary insulation", wire, what)
        if all(configuration.place_of(ref).space == "cabin" for ref in wire.ends):
            what = "It lies in the cabin, among trim and feet."
            yield _bad_link("PROT-LINK-CABIN", "Fusible link in the cabin", wire, what)


def _bad_link(code: str, title: str, wire: Wire, what: str) -> Finding:
    return worded(
        code=code,
        title=title,
        severity=Severity.WARNING,
        where=(wire.id,),
        what=what,
        remedy="Fit a link of 150 mm in link insulation, in the engine space, near the source.",
        source="common practice",
    )


def link_too_small(examined: Examined) -> Iterator[Finding]:
    """A link that the current in use, or the output of the alternator, wears out."""
    for wire in examined.configuration.wires:
        if wire.conductor is not Conductor.LINK:
            continue
        lasting = [p for p in examined.points.values() if p.state.engine is not Engine.CRANKING]
        most_a = max((abs(p.wire_current_a(wire.id)) for p in lasting), default=0.0)
        most_a = max([most_a, *(a for a, ids in output_ways(examined) if wire.id in ids)])
        melting_a = sustained_melting_current_of(wire.size)
        if most_a > LINK_LOAD_RATIO * melting_a:
            yield worded(
                code="PROT-LINK-SMALL",
                title="Fusible link too small",
                severity=Severity.WARNING,
                where=(wire.id,),
                what=f"{most_a:.0f} A may pass it for long; it melts at {melting_a:.0f} A.",
                remedy="Fit a heavier link and, behind it, wires four gauge numbers thicker.",
                source="Preece's law; half of it as limit is our assumption",
            )
