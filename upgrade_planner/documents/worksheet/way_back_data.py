"""The way back and its bag as data."""

from collections.abc import Iterable

from upgrade_planner.documents.words.traces import concerned_words, trace_words
from upgrade_planner.documents.worksheet.stage_shape import BaggedData, WayBackData
from upgrade_planner.planning.way_back import Bagged, WayBack


def bag_data(items: Iterable[Bagged]) -> list[BaggedData]:
    """The bag as data; lengths in metres."""
    return [
        {
            "step": item.step,
            "tag": item.mark,
            "number": item.number,
            "kind": "wire"
            if item.wire
            else "fuses"
            if item.fuses
            else "insides"
            if item.insides
            else "part",
            "length_m": round(item.length_m, 4) if item.wire else None,
            "place": item.place,
            "reusable": item.reusable,
        }
        for item in items
    ]


def way_back_data(way: WayBack) -> WayBackData:
    """The way back as data."""
    return {
        "undoes": way.forward.check_code,
        "bag": bag_data(way.bag),
        "cannot_be_undone": [
            {
                "trace": item.trace,
                "what": trace_words(item),
                "concerned": list(concerned_words(item)),
            }
            for item in way.lasting
        ],
        "wires_to_make_new": list(way.new_wires),
    }
