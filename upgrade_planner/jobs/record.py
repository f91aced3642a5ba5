"""From a filled form to a configuration file of one's own: read, judge, prove, write."""

import os
import tempfile
from pathlib import Path
from typing import Any

from attrs import evolve

from upgrade_planner.comparison.structure import structural_changes
from upgrade_planner.configuration import loading
from upgrade_planner.configuration.files.shipped import find_profile, name_from
from upgrade_planner.configuration.model import Configuration
from upgrade_planner.configuration.tables.spreadsheet import Table
from upgrade_planner.configuration.tables.wire_differences import spreadsheet_differences
from upgrade_planner.configuration.values.sizes import AUTOMATIC
from upgrade_planner.documents.profiles.as_found_text import (
    AsFoundFile,
    as_found_text,
    joined_names,
    note_text,
)
from upgrade_planner.documents.shared.writing import require_target, write_whole
from upgrade_planner.documents.survey.form_csv import form_mark
from upgrade_planner.documents.terminal.told import Outcome, unclear_words
from upgrade_planner.electrical import sizing
from upgrade_planner.errors import PlannerError
from upgrade_planner.inspection.filled_form import FilledForm, read_form
from upgrade_planner.inspection.found_signs import with_signs
from upgrade_planner.inspection.recorded import Recorded, recorded
from upgrade_planner.inspection.walk import Inspection, inspection
from upgrade_planner.jobs.explain import explained


class DoesNotLoad(PlannerError):
    """What the form says, taken together, is no sound configuration."""


def record(
    name: str, form: Path, target: Path, *, replace: bool = False, strict: bool = False
) -> Outcome:
    """
    Writes what a filled form says as a configuration based on `name`.

    Args:
        name: Shipped configuration or file that the form was printed for.
        form: The filled form, or a spreadsheet of the wires.
        target: File to write.
        replace: A file that is there already may be lost.
        strict: Nothing is written if one answer is not clear; else what is clear is taken, and the
            rest stands in the file as questions.

    Raises:
        PlannerError: anything faulty in the configuration, a file that is no form of it, or a form
            that is not clear, if strict; nothing is written then.
    """
    base_path = find_profile("configuration", name)
    inputs = [base_path, form]
    require_target(target, (".toml",), inputs=inputs, is_edited=True, replace=replace)
    base = loading.load_configuration(name)
    filled = read_form(form)
    based_on = name_from(name, target)
    if isinstance(filled, Table):
        result = _from_wires(filled, base)
        content = _content(base, result, based_on, form.name)
    else:
        walked = inspection(sizing.sized(base)[0])
        result = _from_form(base, walked, filled, strict=strict)
        result = with_signs(result, filled.signs or (), walked)
        content = _surveyed(_content(base, result, based_on, form.name), base, result)
        content = _with_form(content, walked, filled)
    is_survey = isinstance(filled, FilledForm)
    text = as_found_text(content)
    proven = _prove(text, form, target)
    write_whole(target, text.encode())
    return Outcome(
        target=target,
        wires=len(base.wires),
        recorded=result,
        is_survey=is_survey,
        vehicle=base.vehicle,
        base=base.name,
        differences=structural_changes(base, proven),
    )


def _from_form(
    base: Configuration, walked: Inspection, filled: FilledForm, *, strict: bool
) -> Recorded:
    return recorded(
        filled.rows,
        walked,
        form=form_mark(walked.configuration),
        automatic=frozenset(wire.id for wire in base.wires if wire.given_size == AUTOMATIC),
        is_european=filled.is_european,
        has_units=filled.has_units,
        strict=strict,
    )


def _from_wires(table: Table, base: Configuration) -> Recorded:
    found = spreadsheet_differences(table, base)
    return Recorded(remove_wires=found.remove, change_wires=found.change, add_wires=found.add)


def _content(base: Configuration, result: Recorded, based_on: str, form: str) -> AsFoundFile:
    return AsFoundFile(
        title=base.title if "as found" in base.title else f"{base.title}, as found",
        summary=f"What was found at the vehicle, written down on a form for {base.name}.",
        based_on=based_on,
        opening=(
            f"Recorded from {form}. What follows is how the vehicle differs from the profile it is "
            "based on; edit it like any other.",
        ),
        sections={},
        note="",
        changes=_changes(result),
    )


def _surveyed(content: AsFoundFile, base: Configuration, result: Recorded) -> AsFoundFile:
    """With what a survey says beside the changes."""
    note = note_text(_sentences(base, result))
    remarks = (*_missed(result), *_remarks(result))
    return evolve(content, sections=_sections(result), note=note, remarks=remarks)


def _with_form(content: AsFoundFile, walked: Inspection, filled: FilledForm) -> AsFoundFile:
    """With who looked, and which signs of alterations were found."""
    opening = content.opening
    remarks = content.remarks
    if filled.head:
        words = ", ".join(f"{key} {value}" for key, value in filled.head.items())
        opening = (*opening, f"Looked at: {words}.")
        remarks = (f"Looked at: {words}.", *remarks)
    if filled.signs is None:
        return evolve(content, opening=opening, remarks=remarks)
    missed = tuple(sign.look for sign in walked.signs if sign.id not in filled.signs)
    looked = tuple(sign.look for sign in walked.signs if sign.id in filled.signs)
    if looked:
        remarks = (*remarks, f"Found of the signs of alterations: {' '.join(looked)}")
    sections = {
        **content.sections,
        "Signs of alterations that were not found, or not looked for": missed,
    }
    return evolve(content, opening=opening, sections=sections, remarks=remarks)


def _sections(result: Recorded) -> dict[str, tuple[str, ...]]:
    return {
        "ANSWERS LEFT, not taken over; put them right on the form, or below": unclear_words(
            result.left
        ),
        "QUESTIONS, found and written down nowhere; answer them by a change below": (
            result.questions
        ),
        "Measured, and not as computed": tuple(map(str, result.findings)),
        "Taken over from a measured value": result.settings,
        "Look at these again": result.doubts,
        "Nobody looked at these wires; they stand as the profile has them": _named(
            result.not_looked_at
        ),
        "Nobody looked at these parts": _named(result.parts_not_looked_at),
    }


def _named(names: tuple[str, ...]) -> tuple[str, ...]:
    return (", ".join(names),) if names else ()


def _sentences(base: Configuration, result: Recorded) -> list[str]:
    """The note that the work sheet prints: what nobody confirmed."""
    missed, every = result.not_looked_at, len(base.wires)
    if missed:
        return [f"Not looked at: {len(missed)} of {every} wires."]
    return ["Every wire of the profile was looked at."]


def _missed(result: Recorded) -> tuple[str, ...]:
    """Which wires nobody looked at, for those who work at the vehicle."""
    missed = result.not_looked_at
    return (f"Not looked at: {joined_names(missed)}.",) if missed else ()


def _remarks(result: Recorded) -> tuple[str, ...]:
    """What the sheet prints sentence by sentence, so that nothing that was written is silent."""
    unclear = (text.replace("_found", "").replace("_", " ") for text in unclear_words(result.left))
    left = tuple(f"Not clear on the form: {text}" for text in unclear)
    agreeing = (f"Measured as computed: {'; '.join(result.agreeing)}",) if result.agreeing else ()
    found = (*left, *map(str, result.findings), *result.settings, *result.doubts, *agreeing)
    return tuple(_whole_sentence(text) for text in found)


def _whole_sentence(text: str) -> str:
    return text if text.endswith(".") else f"{text}."


def _changes(result: Recorded) -> dict[str, Any]:
    return {
        "remove_wires": result.remove_wires,
        "remove_components": result.remove_components,
        "change_wires": result.change_wires,
        "add_wires": result.add_wires,
        "change_component": result.change_component,
        "add_component": result.add_component,
    }


def _prove(text: str, form: Path, target: Path) -> Configuration:
    """
    The configuration of the text, before it is put in place.

    Raises:
        DoesNotLoad: it is no sound configuration; says why, in the words of the loader.
    """
    handle, name = tempfile.mkstemp(prefix=".trial-", suffix=".toml", dir=target.parent)
    try:
        with os.fdopen(handle, "w", encoding="utf-8") as file:
            file.write(text)
        return loading.load_configuration(name)
    except PlannerError as error:
        told = explained(error).replace(name, "the new file")
        raise DoesNotLoad(
            f"{form}: found entries that do not fit together; nothing was written\n{told}"
        ) from error
    finally:
        Path(name).unlink(missing_ok=True)
