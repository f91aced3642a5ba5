"""
The plan as data: JSON, versioned. The format is described in the contributor guide.

New keys may be added within a version.
"""

import hashlib
import json
from collections.abc import Mapping, Sequence
from types import MappingProxyType
from typing import Any

from upgrade_planner.comparison.part_changes import (
    PartAdjusted,
    PartChange,
    PartExchanged,
    PartFitted,
    PartRebuilt,
    PartRelocated,
    PartTakenOut,
)
from upgrade_planner.comparison.results import Comparison
from upgrade_planner.comparison.structure import StructuralChange, structural_changes
from upgrade_planner.comparison.wire_changes import (
    FromVehicle,
    IntoTarget,
    Kept,
    Moved,
    Resized,
    WireChange,
)
from upgrade_planner.configuration.end_fittings import EndFitting
from upgrade_planner.configuration.model import Configuration, TerminalRef, Wire
from upgrade_planner.documents.shared.data_text import data_text
from upgrade_planner.documents.shared.finding_data import configuration_data, finding_data
from upgrade_planner.documents.words.articles import words_of
from upgrade_planner.documents.words.differences import difference_words
from upgrade_planner.documents.words.operations import operation_words
from upgrade_planner.documents.words.reasons import reason_words, wait_words
from upgrade_planner.documents.words.shelves import SHELVES
from upgrade_planner.documents.words.standing import hazard_words, procedure_words
from upgrade_planner.documents.words.wording import IN_DATA, terminal_words
from upgrade_planner.documents.worksheet.plan_shape import (
    COMPARISON,
    PLAN,
    ChangesData,
    ComparisonData,
    DifferenceData,
    EndData,
    HazardData,
    JointData,
    LeftData,
    MaterialData,
    OneJobData,
    PartData,
    SlotData,
    StepData,
    WireChangeData,
    WireData,
)
from upgrade_planner.documents.worksheet.reading_rows import readings_data
from upgrade_planner.documents.worksheet.title_block import SheetOptions, identity_of
from upgrade_planner.kit.articles import Material
from upgrade_planner.kit.cable import cut_length_m
from upgrade_planner.kit.ends import fitting_article
from upgrade_planner.kit.materials import consumption, gives_back, totals
from upgrade_planner.planning.fuses import Slot, slots_of
from upgrade_planner.planning.joints.loosening import LeftBehind
from upgrade_planner.planning.joints.meeting import Meeting
from upgrade_planner.planning.joints.torque import torque_for
from upgrade_planner.planning.operations import (
    AdjustPart,
    AttachEnd,
    DetachEnd,
    FitPart,
    InsertFuse,
    Operation,
    Procedure,
    ends_joined,
    ends_taken_off,
)
from upgrade_planner.planning.plan import NumberedOperation, Plan
from upgrade_planner.planning.standing_data import Hazard

DIGEST_LENGTH = 12


def plan_json(
    plan: Plan, options: SheetOptions, extra: Mapping[str, Any] = MappingProxyType({})
) -> str:
    """
    The plan as JSON text: sorted keys, SI units, ids that hold across runs.

    Args:
        plan: The plan.
        options: Date and numbers of the sheet.
        extra: Further keys, of a stage or a way back.
    """
    return data_text(PLAN, {**plan_data(plan, options), **extra})


def plan_data(plan: Plan, options: SheetOptions) -> OneJobData:
    """The plan as plain lists and dictionaries."""
    identity = identity_of(plan, options)
    materials = consumption(plan)
    used = [material for found in materials.values() for material in found]
    return {
        "sheet_number": identity.sheet_number,
        "revision": identity.revision,
        "date": options.date,
        "check_code": plan.check_code,
        "policy": plan.comparison.policy,
        "before": configuration_data(plan.comparison.before),
        "after": configuration_data(plan.comparison.after),
        **comparison_data(plan.comparison),
        "places": {
            place.id: place.name
            for place in (*plan.comparison.before.places, *plan.comparison.after.places)
        },
        "steps": [_step(step, materials, plan) for step in plan.steps],
        "materials": [_material(material) for material in totals(used)],
        "gives_back": [
            _material(material) for found in gives_back(plan).values() for material in found
        ],
        "readings": readings_data(plan),
        "hazards": [_hazard(hazard) for hazard in plan.hazards],
        "findings_after": [finding_data(finding) for finding in plan.findings],
    }


def _hazard(hazard: Hazard) -> HazardData:
    words = hazard_words(hazard, IN_DATA)
    return {
        "id": hazard.id,
        "word": hazard.word,
        "hazard": words.hazard,
        "avoid": words.avoid,
        "if_it_happens": words.if_it_happens,
        "phases": list(hazard.phases),
        "source": hazard.source,
    }


def comparison_json(comparison: Comparison) -> str:
    """A comparison alone as JSON text, in the same words as inside a plan."""
    data: ComparisonData = {
        "policy": comparison.policy,
        "before": configuration_data(comparison.before),
        "after": configuration_data(comparison.after),
        **comparison_data(comparison),
        "configuration_differences": [
            _difference(one) for one in structural_changes(comparison.before, comparison.after)
        ],
    }
    return data_text(COMPARISON, data)


def _difference(change: StructuralChange) -> DifferenceData:
    return {"path": list(change.path), "before": change.before, "after": change.after}


def comparison_data(comparison: Comparison) -> ChangesData:
    """What happens to every part and wire, with the reason."""
    return {
        "parts": [_part(change) for change in comparison.parts],
        "wires": [_wire_change(change, comparison) for change in comparison.wires],
    }


def _part(change: PartChange) -> PartData:
    return {
        "role": change.role,
        "disposition": change.disposition,
        "before": None if isinstance(change, PartFitted) else change.before.name,
        "after": None if isinstance(change, PartTakenOut) else change.after.name,
        "reason": reason_words(change.reasons, IN_DATA),
        "differences": _differences(change),
    }


def _wire_change(change: WireChange, comparison: Comparison) -> WireChangeData:
    return {
        "mark": change.mark,
        "numbers": {
            "before": (
                comparison.numbers.old[change.before.id]
                if isinstance(change, FromVehicle)
                else None
            ),
            "after": (
                comparison.numbers.new[change.after.id] if isinstance(change, IntoTarget) else None
            ),
        },
        "circuit": change.wire.circuit,
        "disposition": change.disposition,
        "old_stays": isinstance(change, Resized) and change.old_stays,
        "before": (
            _wire(change.before, comparison.before) if isinstance(change, FromVehicle) else None
        ),
        "after": _wire(change.after, comparison.after) if isinstance(change, IntoTarget) else None,
        "reason": reason_words(change.reasons, IN_DATA),
        "differences": _differences(change),
    }


def _differences(change: WireChange | PartChange) -> list[str]:
    if isinstance(
        change, Kept | Moved | Resized | PartExchanged | PartRelocated | PartAdjusted | PartRebuilt
    ):
        return [difference_words(difference, IN_DATA) for difference in change.differences]
    return []


def _wire(wire: Wire, configuration: Configuration) -> WireData:
    run = configuration.runs[wire.id]
    return {
        "id": wire.id,
        "length_m": run.length_m,
        "cut_length_m": float(cut_length_m(wire, configuration)),
        "looms": list(run.looms),
        "connectors": list(run.connectors),
        "ends": [_end(ref, configuration) for ref in wire.ends],
        "from": str(wire.start),
        "to": str(wire.end),
        "size": wire.size.label.replace("\N{NO-BREAK SPACE}", " "),
        "area_mm2": wire.size.area_mm2,
        "conductor": wire.conductor,
        "resistance_ohm": wire.resistance_ohm,
        "insulation": wire.insulation.name,
        "colour": wire.colour.code,
        "note": wire.note,
    }


def _end(ref: TerminalRef, configuration: Configuration) -> EndData:
    """One end of a wire: its terminal, the same as printed, where it is, how it is joined."""
    terminal = configuration.component(ref.role).terminal(ref.terminal)
    return {
        "terminal": str(ref),
        "printed": terminal_words(configuration, ref),
        "place": configuration.place_of(ref).id,
        "hardware": terminal.connection.label if terminal else "",
    }


def _step(
    numbered: NumberedOperation, materials: Mapping[str, tuple[Material, ...]], plan: Plan
) -> StepData:
    operation = numbered.operation
    line, reverse = operation_words(operation)
    step: StepData = {
        "number": numbered.number,
        "row": numbered.row,
        "id": operation.id,
        "phase": operation.phase,
        "place": operation.place,
        "line": line,
        "reverse": reverse,
        "after": [
            {"id": dependency.operation_id, "reason": wait_words(dependency.reason)}
            for dependency in operation.after
        ],
        "materials": [_material(material) for material in materials.get(operation.id, ())],
    }
    ends: tuple[AttachEnd | DetachEnd, ...] = (
        *ends_taken_off(operation),
        *ends_joined(operation),
    )
    if ends:
        step["joint"] = _joint(operation, ends, plan)
    if left := plan.left_behind.get(operation.id, ()):
        step["left_behind"] = [_left(one) for one in left]
    if isinstance(operation, FitPart | AdjustPart):
        step["fuses"] = [_slot(slot) for slot in slots_of(operation.part, plan.comparison.after)]
    if isinstance(operation, InsertFuse):
        slots = slots_of(operation.part, plan.comparison.after)
        step["fuses"] = [_slot(slot) for slot in slots if slot.fuse == operation.fuse]
    if isinstance(operation, Procedure):
        words = procedure_words(operation, IN_DATA)
        step |= {
            "work": operation.work,
            "readings": [reading.id for reading in plan.readings_in(operation)],
            "details": list(words.details),
            "ends": [[wire_id, str(end)] for wire_id, end in operation.ends],
            "expected": words.expected,
            "if_not": words.if_not,
            "unit": operation.unit,
            "judged": [
                {"held": one.held, "value": _rounded(one.value), "of": one.of}
                for one in operation.judged
            ],
            "hold": operation.hold,
            "standing": operation.code if operation.is_standing else "",
            "source": words.source,
        }
    return {**step, "digest": _digest(step)}


def _rounded(value: float | None) -> float | None:
    """To a tenth of a millivolt or milliohm."""
    return None if value is None else round(value, 4)


def _slot(slot: Slot) -> SlotData:
    """One line of a slot table."""
    return {
        "slot": slot.label,
        "terminal": slot.fuse.way,
        "rated_current_a": slot.fuse.rated_current_a,
        "feeds": list(slot.feeds),
    }


def _joint(operation: Operation, ends: Sequence[AttachEnd | DetachEnd], plan: Plan) -> JointData:
    """The terminal of a step, its wires in their order, and what then lies on it."""
    meeting = plan.meetings.get(operation.id)
    torque = torque_for(meeting.connection) if meeting else None
    return {
        "terminal": str(ends[0].end),
        "wires": [
            {
                "id": end.wire.id,
                "side": end.conductor.side,
                "number": plan.number_of(end.conductor),
            }
            for end in ends
        ],
        "stack": [
            {
                "fastening": fitting.fastening,
                "wires": [wire.id for wire in fitting.wires],
                "new": fitting.is_new,
                "on_block": meeting is not None and fitting in meeting.on_block,
                "item": _made_item(fitting, meeting, plan) if meeting and fitting.is_new else None,
            }
            for fitting in (meeting.fittings if meeting else ())
        ],
        "adapters": meeting.adapters if meeting else 0,
        "torque_nm": [torque.low_nm, torque.high_nm] if torque else [],
    }


def _left(left: LeftBehind) -> LeftData:
    """What stays under a nut that is tightened again."""
    torque = torque_for(left.connection)
    return {
        "terminal": str(left.end),
        "wires": [wire.id for fitting in left.fittings for wire in fitting.wires],
        "torque_nm": [torque.low_nm, torque.high_nm] if torque else [],
    }


def _made_item(fitting: EndFitting, meeting: Meeting, plan: Plan) -> str:
    """The article of a fitting that is made, in words."""
    system = plan.comparison.after.vehicle.size_system
    article = fitting_article(fitting, meeting.connection, system)
    return words_of(article).replace("\N{NO-BREAK SPACE}", " ")


def _digest(step: Mapping[str, Any]) -> str:
    """
    Fingerprint of what a step says and takes.

    A step that was ticked is known again after another run if this and its id are the same; its
    number and what it waits for do not count.
    """
    said = {key: value for key, value in step.items() if key not in ("number", "row", "after")}
    text = json.dumps(said, ensure_ascii=False, sort_keys=True)
    return hashlib.sha256(text.encode()).hexdigest()[:DIGEST_LENGTH]


def _material(material: Material) -> MaterialData:
    article = material.article
    return {
        "group": SHELVES[article.shelf],
        "shelf": article.shelf,
        "article": article.sort,
        "traits": dict(article.traits),
        "item": words_of(article).replace("\N{NO-BREAK SPACE}", " "),
        "unit": article.unit,
        "quantity": float(material.quantity),
        "pieces_m": [float(piece) for piece in material.pieces],
        "wires": list(material.wires),
    }
