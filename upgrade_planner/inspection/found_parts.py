"""Lines of the form about a part, or about a reading that belongs to no part."""

import re

from upgrade_planner.configuration.model import Component
from upgrade_planner.inspection.collecting import (
    Collector,
    Entry,
    is_ohms,
    measured_words,
    note_with,
)
from upgrade_planner.inspection.form_lines import FormLine
from upgrade_planner.inspection.judging import UNIT

COLUMNS = ("present", "condition", "measured", "use_measured", "marked", "note")
READING_COLUMNS = ("measured", "note")


def part_entry(answer: FormLine, part: Component, collector: Collector) -> Entry:
    """The entry of `change_component` without its role; empty if nothing differs."""
    entry: Entry = {}
    ratings = {**_measured(answer, part, collector), **_marked(answer, part, collector)}
    if ratings:
        entry["ratings"] = ratings
    entry |= collector.conditions(answer)
    marked = f"Marked: {answer.marked}." if answer.marked else ""
    measured = measured_words(answer) if collector.is_off(answer) else ""
    note = note_with(answer, part.note, marked, measured)
    if note:
        entry["note"] = note
    if answer.marked and not _figure(answer, part):
        words = f"marked '{answer.marked}'; the ratings of '{part.name}' stand until you change "
        collector.doubt(answer, words + "them in the file")
    collector.doubt_condition(answer)
    return entry


MARKED = {"ah": ("capacity",), "w": ("power",), "a": ("rated_output", "rated_current")}
"""Ratings that a figure with this unit on a part is; volts are those of the system."""

_FIGURE = re.compile(r"(\d+(?:\.\d+)?)\s*(ah|a|w)\b", re.IGNORECASE)


def _figure(answer: FormLine, part: Component) -> tuple[str, str] | None:
    """The one rating that is marked on a part, with its figure."""
    found = _FIGURE.findall(answer.marked)
    told = [
        (name, f"{figure} {'Ah' if unit.lower() == 'ah' else unit.upper()}")
        for figure, unit in found
        for name in MARKED[unit.lower()]
        if name in part.ratings
    ]
    return told[0] if len(told) == 1 else None


def _marked(answer: FormLine, part: Component, collector: Collector) -> Entry:
    """The rating that is marked on a part, where it is another one."""
    figure = _figure(answer, part)
    if figure is None:
        return {}
    name, text = figure
    old = float(part.ratings[name])
    if abs(old - float(text.partition(" ")[0])) < 1e-9:
        return {}
    words = f"{name.replace('_', ' ')} set to {text} as marked"
    collector.settings.append(f"{answer.called}: {words}; was {old:g} {text.split()[1]}")
    return {name: text}


def _measured(answer: FormLine, part: Component, collector: Collector) -> Entry:
    expected = collector.inspection.measurement_of.get(("part", part.role))
    if answer.measured is not None:
        if expected is None or expected.dimension is not answer.measured.dimension:
            wanted = f"a value in {UNIT[expected.dimension]}" if expected else "nothing here"
            found = f"'{answer.measured.text}'"
            collector.refuse(answer, "measured", found, f"{wanted}; other readings under note")
            return {}
        collector.judge(answer, expected)
    if not answer.use_measured:
        return {}
    if expected is None or not expected.rating:
        wanted = "nothing: no rating of this part is a resistance"
        collector.refuse(answer, "use_measured", f"yes on {part.role}", wanted)
        return {}
    if not is_ohms(answer.measured):
        collector.refuse_use(answer)
        return {}
    return collector.taken(answer, expected.rating, part.ratings.get(expected.rating))


def take_reading(answer: FormLine, collector: Collector) -> None:
    """Judges a reading that belongs to no single part."""
    collector.refuse_columns(answer, READING_COLUMNS)
    if answer.note:
        collector.doubt(answer, f"note: {answer.note}")
    expected = collector.inspection.measurement_of["reading", answer.id]
    if answer.measured is None:
        return
    if answer.measured.dimension is expected.dimension:
        collector.judge(answer, expected)
    else:
        wanted = f"a value in {UNIT[expected.dimension]}"
        collector.refuse(answer, "measured", f"'{answer.measured.text}'", wanted)
