"""The page that says where the job is: the view from above, and the looms to open."""

from collections.abc import Iterable, Iterator

from upgrade_planner.comparison.part_changes import PartChange
from upgrade_planner.comparison.results import Comparison
from upgrade_planner.comparison.wire_changes import WireChange
from upgrade_planner.configuration.model import Configuration
from upgrade_planner.configuration.ways import Route
from upgrade_planner.documents.drawings.lines import ORDER
from upgrade_planner.documents.drawings.pages import formats
from upgrade_planner.documents.drawings.plan_view import PlanView, plan_view
from upgrade_planner.documents.drawings.shapes.figure import TAGS
from upgrade_planner.documents.drawings.svg import inline_svg
from upgrade_planner.documents.drawings.whereabouts import (
    Band,
    PlaceOfWork,
    Whereabouts,
    whereabouts,
)
from upgrade_planner.documents.words.quantities import counted
from upgrade_planner.documents.words.wording import part_words, role_words, sentence
from upgrade_planner.documents.worksheet.picture_views import WhereRow, WhereView

_HEADING = 9.0
"""Heading of the view. [mm]"""
_WITHOUT_KEY = 13.0
"""More height than beside a key to the lines. [mm]"""
_LIST_HEAD, _LIST_ROW = 8.0, 6.4
"""Height of the head of the list and of a row of it, about; the view leaves so much if it can."""


def where_view(comparison: Comparison, paper: str) -> WhereView:
    """
    Where the job is, on a page of its own.

    Args:
        comparison: What changes.
        paper: `A4` or `Letter`.
    """
    found, width, room = whereabouts(comparison), *_room(paper)
    rest = room - _LIST_HEAD - _LIST_ROW * (len(found.bands) + sum(map(_has_wires, found.places)))
    drawn = plan_view(found, width, rest, may_be_brief=False) or plan_view(found, width, room)
    return _view(comparison, found, drawn)


def where_views(comparison: Comparison, paper: str, below_title: float) -> tuple[WhereView, ...]:
    """
    Where the job is, as it can stand among text: as tall as it comes, and low.

    Args:
        comparison: What changes.
        paper: `A4` or `Letter`.
        below_title: Room that the title leaves of its page. [mm]
    """
    found, width, room = whereabouts(comparison), *_room(paper)
    whole = plan_view(found, width, room)
    low = plan_view(found, width, below_title - _HEADING)
    views = [whole, low] if low is not None and low.height < (whole or low).height else [whole]
    return tuple(_view(comparison, found, drawn) for drawn in views)


def _room(paper: str) -> tuple[float, float]:
    upright, _ = formats(paper)
    return upright.width, upright.height + _WITHOUT_KEY


def _view(comparison: Comparison, found: Whereabouts, drawn: PlanView | None) -> WhereView:
    names_parts = drawn is None or drawn.is_brief
    ends = _numbers if drawn else _names
    rows = [_band_row(band, ends(comparison.after, band.route)) for band in found.bands]
    for item in found.places:
        parts = item.parts if names_parts else ()
        if parts or item.wires:
            rows.append(_place_row(item, parts))
    return WhereView(
        svg=inline_svg(drawn.marks, drawn.width, drawn.height, where_alternative(found.places))
        if drawn
        else "",
        rows=tuple(rows),
        height=drawn.height if drawn else 0.0,
        is_brief=drawn is not None and drawn.is_brief,
    )


def _has_wires(item: PlaceOfWork) -> bool:
    return bool(item.wires)


def where_alternative(places: Iterable[PlaceOfWork]) -> str:
    """The view from above in a sentence, for whoever cannot see it."""
    told = []
    for item in places:
        parts = f": {_parts(item.parts)}" if item.parts else ""
        told.append(f"{item.place.walk} {item.place.name}{parts}")
    return f"The places of the job from front to rear. {'; '.join(told)}."


def _numbers(configuration: Configuration, route: Route) -> str:
    """Both ends by the numbers that the picture has."""
    first, second = sorted(configuration.place_by_id[p].walk for p in (route.start, route.end))
    return f"{first} to {second}"


def _names(configuration: Configuration, route: Route) -> str:
    places = (configuration.place_by_id[place] for place in (route.start, route.end))
    first, second = sorted((place.walk, place.name) for place in places)
    return f"{first[0]} {first[1]} to {second[0]} {second[1]}"


def _band_row(band: Band, between: str) -> WhereRow:
    route = band.route
    through = f", through {role_words(route.through)}" if route.through else ""
    stays = f"; {counted(band.stays, 'wire stays', 'wires stay')}" if band.stays else ""
    loom = f"{route.loom}, {route.covering}" if route.loom else f"open run, {route.covering}"
    return WhereRow(
        mark=band.letter,
        where=sentence(f"{loom}{through}"),
        between=between,
        what=f"{_wires(band.changes)}{stays}.",
    )


def _place_row(item: PlaceOfWork, parts: tuple[PartChange, ...]) -> WhereRow:
    told = [text for text in (_parts(parts), _wires(item.wires)) if text]
    return WhereRow(
        mark=str(item.place.walk),
        where=sentence(item.place.name),
        between="",
        what=f"{'; '.join(told)}.",
    )


def _wires(changes: tuple[WireChange, ...]) -> str:
    """What happens to which wires, each action once: `REMOVE field, points-lead; ADD sensing`."""
    return "; ".join(_by_action(changes))


def _by_action(changes: tuple[WireChange, ...]) -> Iterator[str]:
    for action in ORDER:
        names = [change.mark for change in changes if change.disposition is action]
        if names:
            yield f"{str(action).upper()} {', '.join(names)}"


def _parts(changes: tuple[PartChange, ...]) -> str:
    return "; ".join(f"{TAGS[type(change)]} {part_words(change.part)}" for change in changes)
