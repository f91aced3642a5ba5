"""The form to take to the car: fills its view."""

from collections.abc import Iterator

from upgrade_planner import __version__
from upgrade_planner.configuration.model import Component, Conductor, Configuration, Wire
from upgrade_planner.configuration.registry import circuits
from upgrade_planner.configuration.values.insulation import insulations
from upgrade_planner.documents.survey.form_csv import ADDED, STRANGERS, form_code, form_mark
from upgrade_planner.documents.survey.form_views import (
    Measured,
    PartLine,
    PlaceView,
    ReadingLine,
    SignLine,
    StateLine,
    SurveyIdentity,
    SurveyView,
    WireLine,
)
from upgrade_planner.documents.survey.form_words import (
    STATES,
    brief_measure_words,
    end_words,
    expected_words,
    unit_of,
)
from upgrade_planner.documents.words.wire_words import brief_words
from upgrade_planner.documents.words.wording import (
    mark_words,
    plain_name,
    sentence,
    short_length_words,
    terminal_words,
)
from upgrade_planner.documents.worksheet.views import SafetyMessage
from upgrade_planner.inspection.form_cautions import cautions
from upgrade_planner.inspection.measuring import Measurement
from upgrade_planner.inspection.signs import Sign
from upgrade_planner.inspection.spoken_answers import CONDITIONS
from upgrade_planner.inspection.walk import Inspection, Stop, first_place

UNKNOWN_CLASS = ("PVC", "COTTON", "RUBBER")
"""Insulations that a person can tell by the look; the form explains them."""

FEW_STRANGERS = 4
"""Lines for wires that are not in the profile, on the short form."""

LONGEST_WHERE = 4
"""Places of a sign that are named; more would hide the sign."""


def survey_html(
    view: SurveyView, *, paper: str = "A4", embed_fonts: bool = False, language: str = "en"
) -> str:
    """The form as HTML; equal inputs give equal text."""
    from upgrade_planner.documents.shared.html import template_html

    return template_html(
        "survey/survey.html.jinja",
        paper=paper,
        embed_fonts=embed_fonts,
        view=view,
        language=language,
    )


def survey_view(
    walked: Inspection, issued: str, units: str, *, in_full: bool = False
) -> SurveyView:
    """The view of a survey form, short or with every question."""
    return SurveyView(
        in_full=in_full,
        identity=_identity(walked.configuration, issued),
        safety=tuple(_message(caution) for caution in cautions(walked)),
        states=tuple(_states(walked)),
        readings=tuple(_readings(walked)),
        places=tuple(_place(stop, walked, units, in_full=in_full) for stop in walked.stops),
        strangers=tuple(
            f"stranger-{number}"
            for number in range(1, (STRANGERS if in_full else FEW_STRANGERS) + 1)
        ),
        added=tuple(f"added-{number}" for number in range(1, ADDED + 1)),
        signs=tuple(_sign(sign, walked.configuration) for sign in walked.signs),
        conditions=CONDITIONS,
        conductors=tuple(map(str, Conductor)),
        circuits=tuple(circuits()),
        insulations=tuple(i.name for i in insulations() if i.name not in UNKNOWN_CLASS),
    )


def _identity(configuration: Configuration, issued: str) -> SurveyIdentity:
    vehicle = configuration.vehicle
    return SurveyIdentity(
        title=f"Survey form: {vehicle.title}",
        number=f"SF-{configuration.digest[:4].upper()}",
        date=issued,
        vehicle=vehicle.title,
        serial_number=vehicle.serial_number,
        owner=vehicle.owner,
        configuration=configuration.title,
        ground=vehicle.ground,
        voltage=f"{vehicle.voltage_v:g}\N{NO-BREAK SPACE}V",
        code=form_code(configuration),
        mark=form_mark(configuration),
        program=f"upgrade-planner {__version__}",
    )


def _message(caution: dict[str, str]) -> SafetyMessage:
    return SafetyMessage(
        id=caution["id"],
        word=caution["word"],
        hazard=caution["hazard"],
        avoid=caution["avoid"],
        if_it_happens=caution.get("if_it_happens", ""),
    )


def _states(walked: Inspection) -> Iterator[StateLine]:
    """The order of the measuring: with the battery connected first, the rest with it off."""
    for state, words in STATES.items():
        ours = [found for found in walked.measurements if found.state == state]
        if ours:
            names = [f.id if f.kind == "wire" else plain_name(f.id) for f in ours]
            yield StateLine(state=sentence(words), what=", ".join(names))


def _readings(walked: Inspection) -> Iterator[ReadingLine]:
    for found in walked.measurements:
        if found.kind == "reading":
            ends = (end_words(end, walked.configuration) for end in found.between)
            yield ReadingLine(
                id=found.id,
                name=sentence(plain_name(found.id)),
                leads=f"{sentence(STATES[found.state])}: {' to '.join(ends)}",
                measured=_measured(found),
            )


def _measured(found: Measurement) -> Measured:
    return Measured(
        what=sentence(brief_measure_words(found)),
        expected=expected_words(found),
        unit=unit_of(found),
        can_be_used=bool(found.rating),
    )


# Places -----------------------------------------------------------------------------------------


def _place(stop: Stop, walked: Inspection, units: str, *, in_full: bool) -> PlaceView:
    configuration = walked.configuration
    return PlaceView(
        name=stop.place.name,
        parts=tuple(_part(part, walked) for part in stop.parts),
        wires=tuple(_wire(wire, stop, walked, units, in_full=in_full) for wire in stop.wires),
        ends_here=tuple(
            f"{wire.id} (from {first_place(wire, configuration).name})" for wire in stop.ends_here
        ),
    )


def _part(part: Component, walked: Inspection) -> PartLine:
    found = walked.measurement_of.get(("part", part.role))
    labels = [mark_words(terminal) for terminal in part.terminals]
    return PartLine(
        role=part.role,
        name=part.name,
        terminals=", ".join(filter(None, labels)),
        note=part.note,
        measured=_measured(found) if found else None,
    )


def _wire(wire: Wire, stop: Stop, walked: Inspection, units: str, *, in_full: bool) -> WireLine:
    configuration = walked.configuration
    ends = sorted(wire.ends, key=lambda ref: configuration.place_of(ref).id != stop.place.id)
    here, there = (terminal_words(configuration, ref) for ref in ends)
    other = configuration.place_of(ends[1])
    is_here = other.id == stop.place.id
    found = walked.measurement_of.get(("wire", wire.id))
    return WireLine(
        id=wire.id,
        circuit=wire.circuit,
        here=here,
        there=there if is_here else f"{there}, {other.name}",
        here_key="from" if ends[0] == wire.start else "to",
        there_key="to" if ends[0] == wire.start else "from",
        profile=_profile(wire, configuration, units, with_words=in_full),
        note=wire.note,
        measured=_measured(found) if found else None,
        asks_conductor=wire.conductor is not Conductor.COPPER,
    )


def _profile(wire: Wire, configuration: Configuration, units: str, *, with_words: bool) -> str:
    """Size, colour and length; the short form explains the letters of colours at its end."""
    length = short_length_words(configuration.runs[wire.id].length_m, units)
    words = f" · {wire.colour.words}" if with_words else ""
    return f"{brief_words(wire, units)}{words} · {length}"


def _sign(sign: Sign, configuration: Configuration) -> SignLine:
    places = dict.fromkeys(
        place for name in sign.where for place in _places_of(name, configuration)
    )
    named = list(places)[:LONGEST_WHERE]
    more = " and elsewhere" if len(places) > LONGEST_WHERE else ""
    return SignLine(
        id=sign.id,
        look=sign.look,
        where="; ".join(named) + more if named else "whole vehicle",
        record=sign.record,
    )


def _places_of(name: str, configuration: Configuration) -> Iterator[str]:
    wire = configuration.wire_by_id.get(name)
    if wire is not None:
        yield from (configuration.place_of(ref).name for ref in wire.ends)
    elif name in configuration.component_by_role:
        yield configuration.place_by_id[configuration.component(name).place].name
