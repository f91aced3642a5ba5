"""Labels for the bags and wires of a kit, on one sheet to cut up, each with a code to scan."""

from collections.abc import Iterator, Sequence
from math import ceil

from upgrade_planner.attributes import frozen
from upgrade_planner.documents.kit.bag_pages import (
    bag_title,
    place_words,
    sheet_words,
    vehicle_words,
    whose_words,
)
from upgrade_planner.documents.kit.cut_outs import cut_outs
from upgrade_planner.documents.kit.scanned import Code, qr_code
from upgrade_planner.documents.words.amounts import cut_words
from upgrade_planner.documents.words.fuses import slot_lines
from upgrade_planner.documents.words.wire_words import conductor_words, numbered_name
from upgrade_planner.documents.words.wording import part_words, sentence, terminal_words
from upgrade_planner.kit.packed_wires import packed_boxes, packed_wires
from upgrade_planner.kit.packing import Kit

WIDTH_MM, HEIGHT_MM = 90, 36
"""One label. Source: our assumption; what has to be read at arm's length fits, and folded along
its length it wraps round a wire."""

COLUMNS, ROWS = 2, 7
"""Labels of a sheet: 180 by 252 mm, which A4 and Letter both hold within what printers print."""

CODE_MM = 24
"""Side of the code to scan, with its margin. Source: our assumption; steps of 0.5 mm and more."""

LINES, SIGNS = 5, 34
"""Lines below a heading, and signs of a line, beside the code. Source: measured on a page."""

LABELS_OF_A_WIRE = 2
"""One round each end. Source: common practice."""


SEPARATOR = ";"


@frozen(kw_only=True)
class Label:
    """
    One label.

    Attributes:
        heading: Number and name of the wire, or the number of the bag.
        lines: Below it.
        scanned: What a scanner gives.
        code: The same as drawing.
    """

    heading: str
    lines: tuple[str, ...]
    sheet: str
    scanned: str
    code: "Code"


def labels(kit: Kit, units: str = "both", whose: str = "") -> Iterator[Label]:
    """
    For each bag its own label, then two of each wire and those of the lids of fuse boxes in it.

    Args:
        kit: The order.
        units: `metric`, `us` or `both`.
        whose: Customer and order, on each label of a job that does not name its own.
    """
    count = len(kit.order.bags)
    for number, bag in enumerate(kit.order.bags, start=1):
        sheet, title = sheet_words(kit, bag), bag_title(kit, bag)
        job = (sheet, whose_words(kit, bag) or whose)
        about = (place_words(kit, bag), title, vehicle_words(kit, bag))
        yield _label(f"Bag {number} of {count}", about, job, f"bag {number}")
        for packed in packed_wires(kit, bag):
            wire, after = packed.wire, packed.plan.comparison.after
            start, end = (terminal_words(after, ref) for ref in wire.ends)
            lines = (
                wire.circuit,
                f"{start} – {end}",
                f"{conductor_words(wire, units)} · {cut_words(packed.material.quantity, units)}",
                f"{title}, bag {number}",
            )
            heading = numbered_name(packed.number, wire.id)
            label = _label(heading, lines, job, wire.id, *map(str, wire.ends))
            yield from (label,) * LABELS_OF_A_WIRE
        for part, after in packed_boxes(kit, bag):
            for slots in _fitting(slot_lines(part, after)):
                yield _label(sentence(part_words(part)), slots, job, f"fuses {part.role}")


def _fitting(slots: tuple[str, ...]) -> Iterator[tuple[str, ...]]:
    """The lines of a slot table in as many labels as they need."""
    taken: list[str] = []
    for slot in slots:
        if taken and sum(ceil(len(line) / SIGNS) for line in (*taken, slot)) > LINES:
            yield tuple(taken)
            taken = []
        taken.append(slot)
    if taken:
        yield tuple(taken)


def _label(heading: str, lines: Sequence[str], job: tuple[str, str], *scanned: str) -> Label:
    """A label; `job` are the number of the sheet, below the code, and whose it is."""
    sheet, whose = job
    first = ", ".join(filter(None, job))
    text = SEPARATOR.join([first, *scanned] if first else scanned)
    told = tuple(filter(None, (*lines, whose)))
    return Label(heading=heading, lines=told, sheet=sheet, scanned=text, code=qr_code(text))


def labels_html(
    kit: Kit,
    *,
    paper: str = "A4",
    units: str = "both",
    embed_fonts: bool = False,
    title: str = "Labels",
    whose: str = "",
    language: str = "en",
) -> str:
    """The label sheets as HTML; equal inputs give equal text."""
    from upgrade_planner.documents.shared.html import template_html

    return template_html(
        "kit/labels.html.jinja",
        paper=paper,
        embed_fonts=embed_fonts,
        language=language,
        title=title,
        labels=tuple(labels(kit, units, whose)),
        cut_outs=tuple(out for job in kit.jobs for plan in job.plans for out in cut_outs(plan)),
        columns=COLUMNS,
        rows=ROWS,
        width_mm=WIDTH_MM,
        height_mm=HEIGHT_MM,
        code_mm=CODE_MM,
    )
