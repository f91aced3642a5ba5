"""What lies in each bag: wires to cut with what goes on their ends, and all other articles."""

from collections import Counter
from collections.abc import Iterator
from functools import partial

from upgrade_planner.configuration.model import Configuration, Wire
from upgrade_planner.documents.kit.kit_views import BagItem, BagView, WireRow
from upgrade_planner.documents.kit.kit_words import stand_in_words, used_for_words
from upgrade_planner.documents.words.amounts import amount_words, cut_words, piece_words
from upgrade_planner.documents.words.articles import words_of
from upgrade_planner.documents.words.wire_words import conductor_words, names_in_job, numbered_name
from upgrade_planner.documents.words.wording import NBSP, role_words, terminal_words
from upgrade_planner.kit.articles import EACH, METRE
from upgrade_planner.kit.cable import first_piece_m
from upgrade_planner.kit.filling_bags import Bag, BagLine
from upgrade_planner.kit.packed_wires import PackedWire, packed_wires
from upgrade_planner.kit.packing import Kit, bag_key, is_spare

_CABLE = "cable"


def bag_view(kit: Kit, bag: Bag, number: int, units: str) -> BagView:
    """
    One bag on paper.

    Every line of the bag is shown once: cable as wires, all else as items; what has been ordered
    beyond the wires, as spare, is an item too.
    """
    by_article = {line.article: line for line in bag.lines}
    wires = tuple(
        _wire_row(kit, wire, by_article[wire.material.article], number, units)
        for wire in packed_wires(kit, bag)
    )
    shown = () if is_spare(bag) else (_CABLE,)
    return BagView(
        number=number,
        title=bag_title(kit, bag),
        vehicle=", ".join(filter(None, (vehicle_words(kit, bag), whose_words(kit, bag)))),
        whereto=place_words(kit, bag),
        sheet=sheet_words(kit, bag),
        wires=wires,
        items=tuple(
            _item(kit, bag, line, units) for line in bag.lines if line.article.shelf not in shown
        ),
    )


def bag_title(kit: Kit, bag: Bag) -> str:
    """`Job 1, vehicle 2 of 2, stage 1 of 2`."""
    if is_spare(bag):
        return "Spares for all jobs"
    job, vehicle, stage, _ = bag_key(bag)
    words = [f"Job {job + 1}"]
    if kit.jobs[job].times > 1:
        words.append(f"vehicle {vehicle} of {kit.jobs[job].times}")
    if bag.stage:
        words.append(kit.jobs[job].stage_words(stage))
    return ", ".join(words)


def vehicle_words(kit: Kit, bag: Bag) -> str:
    """The vehicle for which it is packed; "" for the spares."""
    return (
        "" if is_spare(bag) else kit.jobs[bag_key(bag)[0]].plans[0].comparison.before.vehicle.title
    )


def whose_words(kit: Kit, bag: Bag) -> str:
    """Customer and order of the job for which it is packed; "" for the spares."""
    return "" if is_spare(bag) else kit.jobs[bag_key(bag)[0]].whose


def place_words(kit: Kit, bag: Bag) -> str:
    """Name of the place where the bag is opened; what serves everywhere is for the vehicle."""
    if is_spare(bag):
        return "no one place"
    if not bag.place:
        return "the whole vehicle"
    job, _, stage, place = bag_key(bag)
    comparison = kit.jobs[job].plans[stage].comparison
    for side in (comparison.after, comparison.before):
        if place in side.place_by_id:
            return side.place_by_id[place].name
    return "no one place"


def sheet_words(kit: Kit, bag: Bag) -> str:
    """Number of the work sheet for which the bag is packed; "" for the spares."""
    if is_spare(bag):
        return ""
    job, _, stage, _ = bag_key(bag)
    return kit.jobs[job].plans[stage].sheet_number


def _wire_row(kit: Kit, packed: PackedWire, line: BagLine, number: int, units: str) -> WireRow:
    wire, after = packed.wire, packed.plan.comparison.after
    start, end = (_end_words(packed, which, number, units) for which in (0, 1))
    return WireRow(
        id=numbered_name(packed.number, wire.id),
        conductor=conductor_words(wire, units),
        length=cut_words(packed.material.quantity, units),
        start=start,
        end=end,
        notes=tuple(_notes(kit, line, first_piece_words(wire, after, units), units)),
    )


def first_piece_words(wire: Wire, after: Configuration, units: str) -> str:
    """Where the wire is cut in two for the connector it passes; "" if it passes none."""
    first = first_piece_m(wire, after)
    return "" if first is None else cut_words(first, units)


def _end_words(packed: PackedWire, which: int, number: int, units: str) -> str:
    end, articles, bag = packed.ends[which]
    where = terminal_words(packed.plan.comparison.after, end)
    if not articles:
        lies = f"lies in bag {bag}" if bag else "is in the vehicle"
        return f"{where}: into the splice; its barrel {lies}"
    elsewhere = "" if bag == number else f" (in bag {bag})"
    return f"{where}: {', '.join(words_of(one, units) for one in articles)}{elsewhere}"


def _notes(kit: Kit, line: BagLine, first: str, units: str) -> Iterator[str]:
    if first:
        yield f"Cut in two for its connector: {first} from the first end."
    if stand_in := stand_in_words(kit, line, units):
        yield f"Packed from {stand_in}."
    if line.line is None:
        yield "No such cable in the price list."
    elif line.missing and len(line.pieces) > 1 and line.in_stock:
        yield "Part of this cable is missing: see the cutting list."
    elif line.missing:
        yield "This cable is missing."


def _item(kit: Kit, bag: Bag, line: BagLine, units: str) -> BagItem:
    unit = line.article.unit
    words = piece_words if unit == METRE else partial(amount_words, unit=unit)
    return BagItem(
        quantity=_item_quantity(line, units),
        article=words_of(line.article, units),
        number=line.line.number if line.line else "",
        used_for=used_for_words(_names(kit, bag, line)),
        missing=words(line.missing, units=units) if line.missing else "",
        note=stand_in_words(kit, line, units),
    )


def _names(kit: Kit, bag: Bag, line: BagLine) -> list[str]:
    """Wires by number and name; spares are for none in particular, nor what serves all."""
    if is_spare(bag):
        return [role_words(name) for name in line.wires]
    if not bag.place:
        return []
    job, _, stage, _ = bag_key(bag)
    return names_in_job(line.wires, line.article.sort, kit.jobs[job].plans[stage].comparison)


def _item_quantity(line: BagLine, units: str) -> str:
    """The sum, or the pieces that are cut."""
    if line.article.unit == EACH or not line.pieces:
        return amount_words(line.to_pack, line.article.unit, units)
    counts = Counter(piece_words(length, units) for length in line.pieces)
    if len(line.pieces) == 1:
        return next(iter(counts))
    return ", ".join(f"{count}{NBSP}×{NBSP}{length}" for length, count in counts.items())
