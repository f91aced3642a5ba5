"""One line of the form about a wire of the profile: what differs, in the words of a profile."""

from collections.abc import Mapping

from upgrade_planner.configuration.model import Conductor, TerminalRef, Wire
from upgrade_planner.configuration.tables.spreadsheet import Row
from upgrade_planner.configuration.values.quantities import Dimension
from upgrade_planner.configuration.values.sizes import size_text
from upgrade_planner.inspection.collecting import (
    Collector,
    Entry,
    cell,
    is_ohms,
    measured_words,
    note_with,
)
from upgrade_planner.inspection.form_lines import FormLine
from upgrade_planner.inspection.judging import expected_for_wire
from upgrade_planner.inspection.spoken_answers import ELSEWHERE, YES
from upgrade_planner.inspection.terminal_names import TerminalNames

COLUMNS = (
    "present",
    "from_found",
    "to_found",
    "size_found",
    "colour_found",
    "conductor_found",
    "insulation_found",
    "length_measured",
    "condition",
    "measured",
    "use_measured",
    "note",
)
_FOUND_UNDER = {
    "from": "from_found",
    "to": "to_found",
    "size": "size_found",
    "colour": "colour_found",
}


def wire_entry(answer: FormLine, wire: Wire, names: TerminalNames, collector: Collector) -> Entry:
    """The entry of `change_wires` without its id; empty if the wire is as the profile says."""
    entry = {
        **_ends(answer, wire, names, collector),
        **_conductor(answer, wire, collector),
        **_measured(answer, wire, collector),
    }
    entry |= collector.conditions(answer)
    note = note_with(answer, wire.note, measured_words(answer) if collector.is_off(answer) else "")
    if note:
        entry["note"] = note
    collector.doubt_condition(answer)
    return entry


def refuse_overwritten(answer: FormLine, wire: Wire, collector: Collector) -> None:
    """A printed cell that differs from the profile is a value in the wrong column."""
    for column, right in overwritten(answer.row, wire).items():
        found = f"{cell(answer, column)} in the printed column"
        expected = f"'{right}' as printed; what is different, under {_FOUND_UNDER[column]}"
        collector.refuse(answer, column, found, expected)


def overwritten(row: Row, wire: Wire) -> Mapping[str, str]:
    """Printed columns of a row that differ from the profile, with what was printed there."""
    printed = {
        "from": str(wire.start),
        "to": str(wire.end),
        "colour": wire.colour.code,
        "size": size_text(wire.given_size),
    }
    return {
        column: right
        for column, right in printed.items()
        if _bare(row.cells.get(column, "")) not in ("", _bare(right))
    }


def _bare(text: str) -> str:
    """For comparison only: spaces, capitals and decimal commas make no difference."""
    return "".join(text.lower().replace(",", ".").replace("mm2", "mm²").split())


# Ends -------------------------------------------------------------------------------------------


def _ends(answer: FormLine, wire: Wire, names: TerminalNames, collector: Collector) -> Entry:
    found = _found_ends(answer, names, collector)
    if found is None:
        return {}
    old = {"from": wire.start, "to": wire.end}
    moved = {key: ref for key, ref in found.items() if ref != old[key]}
    if _contradicts(answer, found, moved, collector):
        return {}
    now = {**old, **moved}
    if now["from"] == now["to"]:
        collector.refuse(answer, "to_found", "both ends on one terminal", "two terminals")
        return {}
    written = {key: str(ref) for key, ref in moved.items()}
    return {**written, **_way(answer, wire, moved, collector)}


def _found_ends(
    answer: FormLine, names: TerminalNames, collector: Collector
) -> dict[str, TerminalRef] | None:
    """The ends that were written down; None if one means no terminal."""
    found: dict[str, TerminalRef] = {}
    for key, written in (("from", answer.start), ("to", answer.end)):
        ref = names.find(written) if written else None
        if written and ref is None:
            collector.refuse(answer, f"{key}_found", *names.refusal(written))
            return None
        if ref is not None:
            found[key] = ref
    return found


def _contradicts(
    answer: FormLine,
    found: Mapping[str, TerminalRef],
    moved: Mapping[str, TerminalRef],
    collector: Collector,
) -> bool:
    if answer.present == ELSEWHERE and not moved:
        what = "with the ends of the profile" if found else "without saying where"
        expected = "the other terminal under from_found or to_found"
        collector.refuse(answer, "present", f"'elsewhere' {what}", expected)
        return True
    if answer.present == YES and moved:
        key, ref = next(iter(moved.items()))
        words = f"another end, '{ref}', of a wire that is where it should be ('yes')"
        collector.refuse(answer, f"{key}_found", words, "'elsewhere' under present")
        return True
    return False


def _way(
    answer: FormLine, wire: Wire, moved: Mapping[str, TerminalRef], collector: Collector
) -> Entry:
    """A wire that ends at another place no longer follows its loom for sure."""
    old = {"from": wire.start, "to": wire.end}
    place = collector.configuration.place_of
    if all(place(old[key]).id == place(ref).id for key, ref in moved.items()):
        return {}
    if wire.measured_length_m is not None and answer.length_m is None:
        words = "joined at another place, length not measured; that of the profile still stands"
        collector.doubt(answer, words)
    if not wire.loom:
        return {}
    words = f"joined at another place; its way is not known, the loom '{wire.loom}' was dropped"
    collector.doubt(answer, words)
    return {"route": ""}


# Conductor and resistance -----------------------------------------------------------------------


def _conductor(answer: FormLine, wire: Wire, collector: Collector) -> Entry:
    entry: Entry = {}
    size = answer.size
    if size is not None and (size != wire.size or wire.id in collector.automatic):
        entry["size"] = size_text(size)
    if answer.colour is not None and answer.colour != wire.colour:
        entry["colour"] = answer.colour.code
    insulation = answer.insulation or wire.insulation
    if "size" in entry or insulation != wire.insulation:
        # a profile may have an insulation for each of several sizes: one size wants one
        entry["insulation"] = insulation.name
    if answer.conductor is not None and answer.conductor is not wire.conductor:
        entry["conductor"] = str(answer.conductor)
        _doubt_new_conductor(answer, wire, collector)
    if answer.length_m is not None and answer.length_m != wire.measured_length_m:
        entry["length"] = answer.length
    return entry


def _doubt_new_conductor(answer: FormLine, wire: Wire, collector: Collector) -> None:
    stands = {} if answer.insulation else {"insulation": wire.insulation.name}
    stands |= {} if answer.size else {"size": size_text(wire.given_size)}
    for what, old in stands.items():
        collector.doubt(answer, f"now {answer.conductor}, {what} not said; {old} still stands")


def _measured(answer: FormLine, wire: Wire, collector: Collector) -> Entry:
    conductor = answer.conductor or wire.conductor
    is_resistance = conductor is Conductor.RESISTANCE
    is_new = is_resistance and wire.conductor is not Conductor.RESISTANCE
    if is_new and not (answer.use_measured and is_ohms(answer.measured)):
        expected = "the ohms under measured and yes under use_measured"
        collector.refuse(answer, "conductor_found", "a resistance wire without its ohms", expected)
        return {}
    if answer.use_measured and not is_resistance:
        expected = "nothing: its ohms follow from size and length"
        collector.refuse(answer, "use_measured", f"yes, but it is {conductor}", expected)
        return {}
    if answer.use_measured and not is_ohms(answer.measured):
        collector.refuse_use(answer)
        return {}
    _judge(answer, wire, collector)
    return collector.taken(answer, "resistance", wire.resistance_ohm) if answer.use_measured else {}


def _judge(answer: FormLine, wire: Wire, collector: Collector) -> None:
    if answer.measured is None:
        return
    shown = collector.inspection.measurement_of.get(("wire", wire.id))
    expected = expected_for_wire(wire, answer, collector.configuration, shown)
    if expected is not None:
        collector.judge(answer, expected)
    elif answer.measured.dimension is Dimension.VOLTAGE:
        found = f"a voltage, '{answer.measured.text}', on a wire that none is computed for"
        collector.refuse(answer, "measured", found, "its ohms with one end off, or a note")
