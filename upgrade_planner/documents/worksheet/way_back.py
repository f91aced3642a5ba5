"""The bag that a way back empties, and its first page."""

from collections.abc import Iterable

from upgrade_planner.configuration.model import Configuration
from upgrade_planner.documents.words.traces import concerned_words, trace_words
from upgrade_planner.documents.words.wire_words import brief_words, numbered_name
from upgrade_planner.documents.words.wording import (
    NBSP,
    part_words,
    short_length_words,
)
from upgrade_planner.documents.worksheet.views import BagRow, KeptPartsView, SummaryRow, WayBackView
from upgrade_planner.planning.way_back import Bagged, WayBack

_EMPTIED = (
    "The kit of this sheet: lay it out before you begin and tick what is there and sound. Step "
    "and place are those of the first sheet."
)


def way_back_bag(way: WayBack, units: str) -> KeptPartsView | None:
    """What the way back takes out of the bag; None if nothing."""
    original = way.forward.comparison.before
    rows = tuple(_row(item, original, units) for item in way.bag if item.reusable)
    if not rows:
        return None
    return KeptPartsView(heading="Out of the bag", lead=_EMPTIED, rows=rows)


def way_back_view(way: WayBack, units: str) -> WayBackView:
    """The first page of a way back."""
    forward = way.forward.comparison
    return WayBackView(
        text=(
            f"This sheet undoes the work sheet with the check code {way.forward.check_code}, from "
            f"“{forward.before.title}” to “{forward.after.title}”, policy {forward.policy}. "
            "It holds if that sheet was followed and nothing was changed since. If the bag is "
            "lost, print a sheet from the one configuration to the other instead: it reckons with "
            "new parts."
        ),
        lasting=tuple(
            SummaryRow(subject=trace_words(item), before=", ".join(concerned_words(item)), after="")
            for item in way.lasting
        ),
        to_buy=tuple(_bought(way, units)),
    )


def _bought(way: WayBack, units: str) -> Iterable[str]:
    original = way.forward.comparison.before
    for wire_id in way.new_wires:
        wire = original.wire_by_id[wire_id]
        length = short_length_words(original.runs[wire_id].length_m, units)
        yield f"{wire_id}: {brief_words(wire, units)}, {wire.insulation.name}, {length}"


def _row(item: Bagged, original: Configuration, units: str) -> BagRow:
    place = original.place_by_id[item.place].name
    if item.wire is not None:
        length = short_length_words(item.length_m, units)
        what = f"{brief_words(item.wire, units)}, {item.wire.insulation.name}, about {length}"
        ends = " to ".join(end.role.replace("_", " ") for end in item.wire.ends)
        place = f"{ends}; tag at {place}"
    else:
        assert item.part is not None
        what = part_words(item.part)
        inside = "fuses" if item.fuses else item.insides
        what = f"{inside} of the {what}" if inside else f"{what}, screws and brackets"
    if not item.reusable:
        what += " (drawn out of loom or connector: keep it as a pattern)"
    tag = numbered_name(item.number, item.mark) if item.number else item.mark.replace("_", NBSP)
    return BagRow(step=item.step, tag=tag, what=what, where=place)
