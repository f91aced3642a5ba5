"""Fills the view of a work sheet from a plan: every word and number that the pages show."""

from collections.abc import Iterable

from attrs import frozen

from upgrade_planner import __version__
from upgrade_planner.checks.findings import Finding, Severity
from upgrade_planner.comparison.part_changes import PartConverted, PartGoes, PartKept
from upgrade_planner.comparison.reasons import PLAIN_KEEP
from upgrade_planner.comparison.results import Comparison
from upgrade_planner.comparison.wire_changes import (
    ON_THE_WAY_BACK,
    Disposition,
    FromVehicle,
    IntoTarget,
    Kept,
    Resized,
    WireChange,
)
from upgrade_planner.configuration.kinds import Capability
from upgrade_planner.configuration.model import Configuration, Terminal
from upgrade_planner.documents.words.findings import finding_words
from upgrade_planner.documents.words.wording import (
    brief_words,
    length_words,
    role_words,
    short_length_words,
)
from upgrade_planner.documents.worksheet.notice import notice_rows
from upgrade_planner.documents.worksheet.reading_rows import reading_views
from upgrade_planner.documents.worksheet.steps import STYLES, StepWriter, ends_words
from upgrade_planner.documents.worksheet.views import (
    Block,
    Counted,
    FindingView,
    Identity,
    PartGroup,
    PartRow,
    Phase,
    SafetyMessage,
    ScheduleGroup,
    ScheduleRow,
    SheetView,
    Step,
    SummaryRow,
    Tool,
)
from upgrade_planner.documents.worksheet.way_back import forward_bag
from upgrade_planner.kit.article_words import words_of
from upgrade_planner.kit.articles import EACH, METRE, Material, shelves
from upgrade_planner.kit.materials import consumption, gives_back, totals
from upgrade_planner.planning import operations as acts
from upgrade_planner.planning.plan import NumberedOperation, Plan
from upgrade_planner.planning.standing_data import Hazard


@frozen(kw_only=True)
class SheetOptions:
    """
    What the caller decides about the paper.

    Attributes:
        date: Date of issue, as printed.
        units: `metric`, `us` or `both`.
        sheet_number: Number of the sheet; from the check code if empty.
        revision: Revision letter.
        heading: What sort of sheet it is, the first words of its title.
    """

    date: str
    units: str = "both"
    sheet_number: str = ""
    revision: str = "A"
    heading: str = "Work sheet"


_PHASES = {
    acts.Phase.MAKE_SAFE: ("Make safe", "Nothing else is touched before the battery is off."),
    acts.Phase.RECORD: ("Record and tag", "What is not recorded cannot be put back."),
    acts.Phase.TAKE_OUT: (
        "Take out",
        "Tick each wire as it comes off; bag and tag what comes out.",
    ),
    acts.Phase.CAP_OFF: ("Cap off", "A capped wire is dead, insulated and tagged at both ends."),
    acts.Phase.FIT_PARTS: ("Fit components", ""),
    acts.Phase.RUN_WIRES: ("Run and join wires", "Load end first, feed end last."),
    acts.Phase.GROUNDS: ("Grounds", "Bright metal, no paint, no rust under any ring."),
    acts.Phase.TEST_DEAD: ("Inspect and test dead", "The battery is still disconnected."),
    acts.Phase.RECONNECT: ("Reconnect", "First through a test lamp; the grounded cable last."),
    acts.Phase.TEST_LIVE: ("Test live", "The engine does not run in this phase."),
    acts.Phase.RUN_ENGINE: ("Run", ""),
    acts.Phase.SIGN: ("Sign", ""),
}

_MEANINGS = {
    Disposition.KEEP: "leave in place",
    Disposition.REMOVE: "take out",
    Disposition.ADD: "fit new wire",
    Disposition.RESIZE: "new size, same ends",
    Disposition.MOVE: "same wire, new end",
    Disposition.CAP_OFF: "insulate, leave",
    Disposition.REFIT: "old wire, from bag",
    Disposition.REJOIN: "uncap, join again",
}


def sheet_view(plan: Plan, options: SheetOptions) -> SheetView:
    """The view of a work sheet; same plan and options, same view."""
    comparison = plan.comparison
    return SheetView(
        identity=identity_of(plan, options),
        language="en",
        intro=_intro(plan),
        as_found_note=comparison.before.as_found_note,
        summary=tuple(_summary(plan, options.units)),
        counts=tuple(
            Counted(
                word=str(item).upper(),
                style=STYLES[item],
                number=comparison.count(item),
                meaning=_MEANINGS[item],
            )
            for item in _shown_dispositions(comparison)
        ),
        notice=notice_rows(comparison.before, comparison.after) if plan.steps else (),
        findings_before=tuple(_grave(plan, options.units)) if plan.steps else (),
        findings=tuple(_finding(finding, options.units) for finding in plan.findings),
        start_conditions=_START if plan.steps else (),
        tools=tuple(_tools(plan)) if plan.steps else (),
        safety=tuple(_message(h) for h in plan.hazards if "job" in h.phases),
        photographs=_photographs(plan),
        phases=tuple(_phases(plan, options.units)),
        schedule=tuple(_schedule(plan, options.units)),
        parts=tuple(_part_groups(plan, options.units)),
        parts_notes=_parts_notes(plan),
        tests=tuple(reading_views(plan)),
        limits=_LIMITS,
        bag=forward_bag(plan, options.units),
        conversion=tuple(_conversion(plan)),
    )


def _shown_dispositions(comparison: Comparison) -> list[Disposition]:
    """The six of every sheet; on a way back those that occur."""
    if any(comparison.count(item) for item in ON_THE_WAY_BACK):
        return [item for item in Disposition if comparison.count(item)]
    return [item for item in Disposition if item not in ON_THE_WAY_BACK]


def identity_of(plan: Plan, options: SheetOptions) -> Identity:
    """Title block of all documents of a job."""
    before, after = plan.comparison.before, plan.comparison.after
    number = options.sheet_number or plan.sheet_number
    return Identity(
        title=f"{options.heading}: {before.vehicle.title}",
        sheet_number=number,
        revision=options.revision,
        date=options.date,
        vehicle=before.vehicle.title,
        serial_number=before.vehicle.serial_number,
        owner=before.vehicle.owner,
        before=before.title,
        after=after.title,
        polarity=f"{before.vehicle.ground} / {after.vehicle.ground}",
        voltage=_voltage(before, after),
        policy=str(plan.comparison.policy),
        check_code=plan.check_code,
        program=f"upgrade-planner {__version__}",
    )


def _intro(plan: Plan) -> str:
    if not plan.steps:
        return "Both configurations are the same: there is nothing to do."
    after = plan.comparison.after
    return f"{after.summary} {len(plan.steps)} steps."


# Summary --------------------------------------------------------------------------------------


def _summary(plan: Plan, units: str) -> Iterable[SummaryRow]:
    before, after = plan.comparison.before, plan.comparison.after
    if before.vehicle.ground != after.vehicle.ground:
        now, then = before.vehicle.ground, after.vehicle.ground
        yield SummaryRow(subject="grounded post", before=now, after=then)
    if before.vehicle.voltage_v != after.vehicle.voltage_v:
        old, new = _voltage(before, before), _voltage(after, after)
        yield SummaryRow(subject="system voltage", before=old, after=new)
    for slot in sorted({*before.system_titles, *after.system_titles}):
        old = before.system_titles.get(slot, "none")
        new = after.system_titles.get(slot, "none")
        yield SummaryRow(subject=role_words(slot), before=old, after=_same(old, new))
    gone: list[str] = []
    for circuit in _changed_circuits(plan):
        old = _wire_words(plan, circuit, old=True)
        new = _wire_words(plan, circuit, old=False)
        if new:
            yield SummaryRow(subject=circuit, before=old or "none", after=new)
        else:
            gone += [
                c.mark
                for c in plan.comparison.wires
                if c.wire.circuit == circuit and not isinstance(c, Kept)
            ]
    if gone:
        yield SummaryRow(subject="not needed any more", before=", ".join(gone), after="none")


def _conversion(plan: Plan) -> Iterable[SummaryRow]:
    """Every part that stays, with what the new ground or voltage asks of it; work first."""
    for fate, words in (
        (PartConverted, "changed over"),
        (PartKept, "stays"),
    ):
        for change in plan.comparison.parts:
            if isinstance(change, fate) and change.treatments:
                yield SummaryRow(subject=change.part.name, before=words, after=change.reason)


def _voltage(before: Configuration, after: Configuration) -> str:
    """System voltage, before and after where it changes."""
    volts = dict.fromkeys(
        f"{one.vehicle.voltage_v:g}\N{NO-BREAK SPACE}V" for one in (before, after)
    )
    return " / ".join(volts)


def _same(old: str, new: str) -> str:
    return "stays" if old == new else new


def _changed_circuits(plan: Plan) -> list[str]:
    changed = {
        change.wire.circuit for change in plan.comparison.wires if not isinstance(change, Kept)
    }
    return sorted(changed)


def _wire_words(plan: Plan, circuit: str, *, old: bool) -> str:
    """The wires of a circuit that change, before or after, in a few words each."""
    changes = [
        change
        for change in plan.comparison.wires
        if change.wire.circuit == circuit and not isinstance(change, Kept)
    ]
    if old:
        wires = [change.before for change in changes if isinstance(change, FromVehicle)]
    else:
        wires = [change.after for change in changes if isinstance(change, IntoTarget)]
    return " · ".join(f"{wire.id} {brief_words(wire)}" for wire in wires)


def _grave(plan: Plan, units: str) -> Iterable[FindingView]:
    for finding in plan.findings_before:
        if finding.severity in (Severity.DANGER, Severity.WARNING):
            words = finding_words(finding, units)
            yield FindingView(
                severity=str(finding.severity),
                code=finding.code,
                where=", ".join(finding.where),
                what=f"{words.title}: {words.what}",
                remedy="",
            )


# Findings, safety, tools ------------------------------------------------------------------------


def _finding(finding: Finding, units: str) -> FindingView:
    words = finding_words(finding, units)
    return FindingView(
        severity=str(finding.severity),
        code=finding.code,
        where=", ".join(finding.where),
        what=f"{words.title}: {words.what} ({words.source})",
        remedy=words.remedy,
    )


def _message(hazard: Hazard) -> SafetyMessage:
    return SafetyMessage(
        id=hazard.id,
        word=hazard.word,
        hazard=hazard.hazard,
        avoid=hazard.avoid,
        if_it_happens=hazard.if_it_happens,
    )


_START = (
    "Engine and exhaust cold, vehicle level, brake on, wheels chocked, out of gear.",
    "Work space airy, no charger on the battery, no flame or heater near it.",
    "Access opened: engine cover up, dash panel reachable, good light.",
    "A second person within call for the hold points.",
    "The maker's service manual at hand; it goes before this sheet.",
)


def _tools(plan: Plan) -> Iterable[Tool]:
    yield Tool(name="Multimeter", use="20 V and 200 V DC, 200 Ω; fresh battery; all tests")
    voltage = plan.facts["system_voltage"]
    yield Tool(name=f"Test lamp {voltage}, about 21 W, with clips", use="phase I")
    studs = _stud_sizes(plan)
    if studs:
        yield Tool(name="Spanners with insulated handles", use=f"studs and screws {studs}")
    barrels = _barrels(plan)
    if barrels:
        yield Tool(name="Crimping tools and dies", use=barrels)
        yield Tool(name="Cable cutter, stripper, hot-air gun", use="every made end")
    yield Tool(name="Insulating sleeves, thick rag", use="battery cable ends")
    yield Tool(name="Tags, waterproof pen, bags, camera", use="phases B, C, D, L")
    yield Tool(name="Fire extinguisher, eye wash, goggles, gloves", use="whole job")


def _stud_sizes(plan: Plan) -> str:
    sizes = {
        terminal.connection.size
        for operation in plan.operations
        if isinstance(operation, acts.AttachEnd | acts.DetachEnd)
        for terminal in [_terminal(plan, operation)]
        if terminal is not None and str(terminal.connection.joint) in ("stud", "screw")
    }
    return ", ".join(sorted(sizes))


def _terminal(plan: Plan, operation: acts.AttachEnd | acts.DetachEnd) -> Terminal | None:
    is_new = isinstance(operation, acts.AttachEnd)
    side = plan.comparison.after if is_new else plan.comparison.before
    return side.component(operation.end.role).terminal(operation.end.terminal)


def _barrels(plan: Plan) -> str:
    articles = [material.article for found in consumption(plan).values() for material in found]
    marks = {barrel for one in articles if (barrel := dict(one.traits).get("barrel"))}
    cables = sorted(mark.removeprefix("cable ") for mark in marks if mark.startswith("cable "))
    return "cable " + "; ".join(cables) if cables else ""


def _photographs(plan: Plan) -> tuple[str, ...]:
    for operation in plan.operations:
        if operation.id == "procedure:photographs":
            return getattr(operation, "details", ())
    return ()


# Phases -----------------------------------------------------------------------------------------


def _phases(plan: Plan, units: str) -> Iterable[Phase]:
    writer = StepWriter(plan, units)
    for phase in acts.Phase:
        steps = [step for step in plan.steps if step.operation.phase is phase]
        if not steps:
            continue
        title, intro = _PHASES[phase]
        yield Phase(
            letter=str(phase),
            title=title,
            intro=intro,
            safety=tuple(_message(h) for h in plan.hazards if str(phase) in h.phases),
            blocks=tuple(_blocks(steps, plan, writer)),
        )


def _blocks(steps: list[NumberedOperation], plan: Plan, writer: StepWriter) -> Iterable[Block]:
    """Steps in a row at one place stand under one heading."""
    places = plan.comparison.before.place_by_id
    current: list[Step] = []
    at = steps[0].operation.place
    for step in steps:
        place = step.operation.place or at
        if place != at and current:
            yield Block(place=places[at].name if at else "", steps=tuple(current))
            current = []
        at = place
        current.append(writer.step(step.number, step.operation))
    yield Block(place=places[at].name if at else "", steps=tuple(current))


# Schedule and parts -----------------------------------------------------------------------------


_ORDER = (
    Disposition.REMOVE,
    Disposition.CAP_OFF,
    Disposition.RESIZE,
    Disposition.MOVE,
    Disposition.ADD,
    Disposition.REFIT,
    Disposition.REJOIN,
    Disposition.KEEP,
)


def _schedule(plan: Plan, units: str) -> Iterable[ScheduleGroup]:
    for disposition in _ORDER:
        changes = [c for c in plan.comparison.wires if c.disposition is disposition]
        common = PLAIN_KEEP if disposition is Disposition.KEEP else ""
        if changes:
            yield ScheduleGroup(
                action=str(disposition).upper(),
                style=STYLES[disposition],
                reason=common,
                rows=tuple(_schedule_row(change, plan, units, common) for change in changes),
            )


def _schedule_row(change: WireChange, plan: Plan, units: str, common: str) -> ScheduleRow:
    before, after = plan.comparison.before, plan.comparison.after
    wire = change.wire
    configuration = after if isinstance(change, IntoTarget) else before
    length = short_length_words(configuration.runs[wire.id].length_m, units)
    conductor = f"{brief_words(wire)} {length}"
    if isinstance(change, Resized):
        conductor = f"{change.before.size.label} → {conductor}"
    reason = change.reason.removeprefix(common).strip()
    return ScheduleRow(
        mark=change.mark,
        action=str(change.disposition).upper(),
        style=STYLES[change.disposition],
        ends=ends_words(configuration, wire.ends),
        conductor=conductor,
        reason=reason,
    )


SHELVES = {
    "parts": "Parts",
    "cable": "Cable and links",
    "terminals": "Terminals",
    "protection": "Fuses, relays and diodes",
    "sealing": "Heat-shrink, caps and tags",
    "harness": "Sleeve, tape, grommets and ties",
    "consumables": "Consumables",
}
"""Headings of the parts list, by shelf."""


def _part_groups(plan: Plan, units: str) -> Iterable[PartGroup]:
    summed = totals(material for found in consumption(plan).values() for material in found)
    for shelf in shelves():
        rows = tuple(_part_row(m, units) for m in summed if m.article.shelf == shelf)
        if rows:
            yield PartGroup(heading=SHELVES[shelf], rows=rows)


def _part_row(material: Material, units: str) -> PartRow:
    unit = material.article.unit
    if unit == METRE:
        quantity = length_words(float(material.quantity), units)
    elif unit == EACH:
        quantity = f"{material.quantity:f}\N{NO-BREAK SPACE}×"
    else:
        quantity = f"{material.quantity:f}\N{NO-BREAK SPACE}{unit}"
    words = [role_words(name) for name in material.wires]
    return PartRow(quantity=quantity, item=words_of(material.article), used_for=", ".join(words))


def _parts_notes(plan: Plan) -> tuple[str, ...]:
    notes = [
        "Lengths follow the routes of the vehicle profile with 150\N{NO-BREAK SPACE}mm of slack at "
        "each end, unless measured, and 20\N{NO-BREAK SPACE}mm to make each end once more. Measure "
        "on the vehicle before you cut.",
        "One terminal for each made end, two caps and two tags for each capped wire. "
        "No allowance for spoilt crimps: add your own.",
    ]
    off = [
        change.before.name
        for change in plan.comparison.parts
        if isinstance(change, PartGoes) and not change.part.can(Capability.MADE_OF_WIRE)
    ]
    if off:
        notes.append("Parts that come off and stay with the owner: " + "; ".join(off) + ".")
    cores = [m.article.trait("name") for found in gives_back(plan).values() for m in found]
    if cores:
        notes.append(
            "Of these the trade takes back as cores for new ones: "
            + "; ".join(cores)
            + ". Without them there is no way back to the old wiring."
        )
    return tuple(notes)


_LIMITS = (
    "This sheet follows two descriptions of the wiring. It is no certificate: nobody has looked at "
    "the vehicle. Local codes, the maker's service manual and licensed practice come first.",
    "Voltages, currents, heat and protection are computed from what the profiles say, with values "
    "for joints and contacts in good order. What the model cannot decide is said as such.",
    "Limits are published ones, for 12 V systems. Expected ranges are computed from the profiles "
    "and from tolerances, most of our own choosing: a reading outside them is a reason to look, "
    "not a fault.",
    "Lengths are computed from routes unless a measured length was given.",
    "It does not cover mechanical fit (brackets, pulleys, belt line, drive gear), timing, "
    "carburation, radio suppression or anything that is not in the profiles.",
)
