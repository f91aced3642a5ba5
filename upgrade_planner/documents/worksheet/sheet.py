"""Fills the view of a work sheet from a plan: every word and number that the pages show."""

from collections.abc import Iterable, Sequence
from itertools import groupby

from attrs import evolve

from upgrade_planner.comparison.results import Comparison
from upgrade_planner.comparison.wire_changes import (
    NAMED_IF_ANY,
    ON_THE_WAY_BACK,
    Disposition,
)
from upgrade_planner.configuration.equipment import MARINE
from upgrade_planner.configuration.model import Joint, Wire
from upgrade_planner.documents.words.articles import barrel_words
from upgrade_planner.documents.words.filling import filled
from upgrade_planner.documents.words.findings import finding_words
from upgrade_planner.documents.words.standing import hazard_words
from upgrade_planner.documents.words.wire_words import colour_key
from upgrade_planner.documents.words.wording import NBSP
from upgrade_planner.documents.worksheet.finding_views import (
    cured_findings,
    target_findings,
    told_in_full,
)
from upgrade_planner.documents.worksheet.found import found_rows
from upgrade_planner.documents.worksheet.halves import parts_left, tools_left
from upgrade_planner.documents.worksheet.notice import notice_rows
from upgrade_planner.documents.worksheet.parts_list import part_groups, parts_notes
from upgrade_planner.documents.worksheet.phases import HEADS, tick_means
from upgrade_planner.documents.worksheet.printed_rows import RowWriter
from upgrade_planner.documents.worksheet.reading_writer import ReadingWriter
from upgrade_planner.documents.worksheet.schedule import (
    changed_rows,
    is_kept,
    kept_changes,
    kept_lines,
    kept_rest,
)
from upgrade_planner.documents.worksheet.summary import (
    conversion_rows,
    summary_rows,
)
from upgrade_planner.documents.worksheet.title_block import SheetOptions, identity_of
from upgrade_planner.documents.worksheet.views import (
    Block,
    Counted,
    PhaseView,
    SafetyMessage,
    SheetView,
    Tool,
)
from upgrade_planner.documents.worksheet.wire_steps import STYLES
from upgrade_planner.kit.ends import SPLICE
from upgrade_planner.kit.materials import consumption
from upgrade_planner.planning import operations as acts
from upgrade_planner.planning.joints.meeting import connection_at
from upgrade_planner.planning.plan import Plan
from upgrade_planner.planning.sheet_rows import SheetRow
from upgrade_planner.planning.standing_data import JOB, Hazard

_MEANINGS = {
    Disposition.KEEP: "leave in place",
    Disposition.REMOVE: "take out",
    Disposition.ADD: "fit new wire",
    Disposition.RESIZE: "new size, same ends",
    Disposition.RENEW: "same size, new cable",
    Disposition.MOVE: "same wire, new end",
    Disposition.CAP_OFF: "insulate, leave",
    Disposition.REFIT: "old wire, from bag",
    Disposition.REJOIN: "uncap, join again",
}


def sheet_view(plan: Plan, options: SheetOptions) -> SheetView:
    """The view of a work sheet; same plan and options, same view."""
    view = _view_of_words(plan, options)
    return _with_pictures(view, plan, options) if options.drawn_on and plan.steps else view


def _with_pictures(view: SheetView, plan: Plan, options: SheetOptions) -> SheetView:
    """What draws is imported here, for a sheet without pictures needs nothing of it."""
    from upgrade_planner.documents.worksheet.drawing_pages import drawing_pages
    from upgrade_planner.documents.worksheet.front import page_room, with_front
    from upgrade_planner.documents.worksheet.front_heights import title_height
    from upgrade_planner.documents.worksheet.where_page import where_views

    paper = options.drawn_on
    wheres = where_views(plan.comparison, paper, page_room(paper) - title_height(view))
    return with_front(view, wheres, drawing_pages(plan, paper, options.units), paper)


def _view_of_words(plan: Plan, options: SheetOptions) -> SheetView:
    comparison = plan.comparison
    kept = tuple(kept_changes(comparison, with_all=options.with_all_wires))
    parts = tuple(part_groups(plan, options.units))
    tools = tuple(_tools(plan, options.units)) if plan.steps else ()
    is_afloat = comparison.after.vehicle.equipment.rules == MARINE
    start = (_AFLOAT if is_afloat else _ON_WHEELS, *_START)
    readings = ReadingWriter(plan, options.units)
    sources = _sources(plan, readings, options.units)
    return SheetView(
        identity=identity_of(plan, options),
        language=options.language,
        intro=_intro(plan),
        as_found_note=comparison.before.as_found_note,
        remarks=comparison.before.as_found_remarks,
        found=tuple(found_rows(plan, options.units)),
        summary=tuple(summary_rows(plan)),
        counts=tuple(
            Counted(
                word=str(item).upper(),
                style=STYLES[item],
                number=comparison.count(item),
                meaning=_MEANINGS[item],
            )
            for item in _shown_dispositions(comparison)
        ),
        notice=notice_rows(comparison.before, comparison.after, options.units)
        if plan.steps
        else (),
        findings_before=tuple(cured_findings(plan, options.units)) if plan.steps else (),
        findings=tuple(target_findings(plan, sources, options.units)),
        start_conditions=start if plan.steps else (),
        tools=tools,
        tools_left=tools_left(tools, start),
        safety=tuple(_message(h, options.units) for h in plan.hazards if JOB in h.phases),
        phases=tuple(_phases(plan, readings, options)),
        changed=tuple(
            changed_rows(
                plan, options.units, with_reasons=options.with_reasons, packed=options.packed
            )
        ),
        changed_colours=colour_key([c.wire for c in comparison.wires if not is_kept(c)]),
        kept=tuple(kept_lines(plan, kept, options.units)),
        kept_colours=colour_key([change.wire for change in kept]),
        kept_rest=kept_rest(comparison.count(Disposition.KEEP) - len(kept)),
        parts=parts,
        parts_left=parts_left(parts),
        parts_notes=parts_notes(plan, options.units),
        record=tuple(readings.views()) if options.with_record else (),
        sources=sources,
        limits=_LIMITS,
        conversion=tuple(conversion_rows(plan, options.units)),
    )


def _shown_dispositions(comparison: Comparison) -> list[Disposition]:
    """The six of every sheet; on a way back those that occur."""
    if any(comparison.count(item) for item in ON_THE_WAY_BACK):
        return [item for item in Disposition if comparison.count(item)]
    return [item for item in Disposition if item not in NAMED_IF_ANY or comparison.count(item)]


def _intro(plan: Plan) -> str:
    if not plan.steps:
        return "Both configurations are the same: there is nothing to do."
    after = plan.comparison.after
    return f"{after.summary} {len(plan.steps)} steps."


# Sources, safety, tools --------------------------------------------------------------------------


def _sources(plan: Plan, readings: ReadingWriter, units: str) -> tuple[str, ...]:
    """Those of readings, which number them so, then those of findings; each once."""
    named = (finding_words(finding, units).source for finding in told_in_full(plan))
    return tuple(dict.fromkeys((*readings.sources, *filter(None, named))))


def _message(hazard: Hazard, units: str) -> SafetyMessage:
    words = hazard_words(hazard, units)
    return SafetyMessage(
        id=hazard.id,
        word=hazard.word,
        hazard=words.hazard,
        avoid=words.avoid,
        if_it_happens=words.if_it_happens,
    )


TEST_LAMP = "test-lamp"
"""Code of the step that asks for a test lamp."""

_TAGGED = (acts.Phase.RECORD, acts.Phase.TAKE_OUT, acts.Phase.CAP_OFF, acts.Phase.SIGN)

_ON_WHEELS = "Engine and exhaust cold, vehicle level, brake on, wheels chocked, out of gear."
_AFLOAT = "Engine and exhaust cold, moorings fast or on the slip, hatches open, out of gear."
_START = (
    "Work area well ventilated, no charger on the battery, no flame or heater near it.",
    "Access opened: engine cover up, dash panel reachable, good light.",
    "A second person within call for the hold points.",
    "The maker's service manual at hand; it goes before this sheet.",
)


def _tools(plan: Plan, units: str) -> Iterable[Tool]:
    yield Tool(name="Multimeter", use="20 V and 200 V DC, 200 Ω; fresh battery; all tests")
    for operation in plan.operations:
        if isinstance(operation, acts.Procedure) and operation.code == TEST_LAMP:
            lamp = "Test lamp {system_voltage:g}, about {lamp:.0f}, with clips"
            name = filled(lamp, operation.facts, "metric", NBSP)
            yield Tool(name=name, use=f"phase {operation.phase}")
    studs = _stud_sizes(plan)
    if studs:
        yield Tool(name="Spanners with insulated handles", use=f"studs and screws {studs}")
    barrels = _barrels(plan, units)
    if barrels:
        yield Tool(name="Crimping tools and dies", use=barrels)
        yield Tool(name="Cable cutter, stripper, hot-air gun", use="every made end")
    yield Tool(name="Insulating sleeves, thick rag", use="battery cable ends")
    yield Tool(name="Tags, waterproof pen, bags, camera", use=f"phases {', '.join(_TAGGED)}")
    yield Tool(name="Fire extinguisher, eye wash, goggles, gloves", use="whole job")


def _stud_sizes(plan: Plan) -> str:
    before, after = plan.comparison.before, plan.comparison.after
    loosened = [(one.end, before) for op in plan.operations for one in acts.ends_taken_off(op)]
    tightened = [(one.end, after) for op in plan.operations for one in acts.ends_joined(op)]
    at = [connection_at(end, side) for end, side in (*loosened, *tightened)]
    return ", ".join(sorted({c.size for c in at if c.joint in (Joint.STUD, Joint.SCREW)}))


def _barrels(plan: Plan, units: str) -> str:
    """The barrels of the terminals that the job takes; a splice has its own tool."""
    articles = [material.article for found in consumption(plan).values() for material in found]
    marks = {barrel_words(one, units) for one in articles if one.sort != SPLICE}
    return "; ".join(sorted(filter(None, marks)))


# Phases -----------------------------------------------------------------------------------------


def _phases(plan: Plan, readings: ReadingWriter, options: SheetOptions) -> Iterable[PhaseView]:
    writer = RowWriter(
        plan,
        readings,
        options.units,
        with_reasons=options.with_reasons,
        packed=options.packed,
    )
    told = {hazard.id for hazard in plan.hazards if JOB in hazard.phases}
    for phase, group in groupby(plan.rows, key=lambda row: row.phase):
        rows = tuple(group)
        operations = [operation for row in rows for operation in row.operations]
        title, intro = HEADS[phase]
        messages = [_message(h, options.units) for h in plan.hazards if str(phase) in h.phases]
        yield PhaseView(
            letter=str(phase),
            title=title,
            intro=intro,
            quality=tick_means(phase, options.units, writer.bag, operations=operations),
            safety=tuple(_once_more(m) if m.id in told else m for m in messages),
            blocks=tuple(_blocks(rows, plan, writer)),
            colours=colour_key(_by_letters(operations)),
        )
        told.update(message.id for message in messages)


def _once_more(message: SafetyMessage) -> SafetyMessage:
    """A message that an earlier phase had: the danger and how to avoid it, in fewer lines."""
    return evolve(message, if_it_happens="", again=True)


def _by_letters(operations: Iterable[acts.Operation]) -> list[Wire]:
    """Wires whose rows give their colour in letters alone: off, out, led elsewhere, dead."""
    wires = []
    for operation in operations:
        wires += [end.wire for end in acts.ends_taken_off(operation)]
        if isinstance(operation, acts.RemoveWire | acts.CapWire | acts.LeadAcross):
            wires.append(operation.wire)
    return wires


def _blocks(rows: Sequence[SheetRow], plan: Plan, writer: RowWriter) -> Iterable[Block]:
    """Rows in turn that begin at one place stand under one heading."""
    names = {place.id: place.name for place in plan.comparison.before.places}
    for place, group in groupby(rows, key=lambda row: row.place):
        yield Block(place=names.get(place, ""), rows=tuple(writer.row(row) for row in group))


_LIMITS = (
    "This sheet follows two descriptions of the wiring. It is no certificate: nobody has looked at "
    "the vehicle. Local codes, the maker's service manual and licensed practice come first.",
    "Voltages, currents, heat and protection are computed from the profiles, for joints and "
    "contacts in good order; lengths from the routes, unless measured.",
    "Limits are published ones, for 12 V systems. Expected ranges come from tolerances, most of "
    "our own choosing: a reading outside them is a reason to look, not a fault.",
    "Not covered: mechanical fit (brackets, pulleys, belt line, drive gear), timing, carburation, "
    "radio suppression, anything that is not in the profiles.",
)
