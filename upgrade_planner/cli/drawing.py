"""The command that draws."""

from enum import StrEnum
from pathlib import Path
from typing import Annotated

import typer

from upgrade_planner.cli.application import app
from upgrade_planner.cli.parameters import (
    English,
    Issued,
    Paper,
    PaperChoice,
    Policy,
    PolicyChoice,
    Progress,
    Units,
    UnitsChoice,
    choice,
    configuration_argument,
    english_words,
)
from upgrade_planner.cli.saying import say
from upgrade_planner.jobs.issuing import date_of_issue


class ChartPaperChoice(StrEnum):
    """Paper of a chart."""

    A4 = "A4"
    A3 = "A3"
    A2 = "A2"
    A1 = "A1"


class StateChoice(StrEnum):
    """State of key and engine."""

    OFF = "off"
    KEY_ON = "key_on"
    CRANKING = "cranking"
    IDLING = "idling"
    LOADED = "loaded"
    COASTING = "coasting"


@app.command()
def drawings(
    before: Annotated[
        str, configuration_argument("BEFORE", "Configuration as it is now, or the only one")
    ],
    after: Annotated[str, configuration_argument("[AFTER]", "Configuration as it shall be")] = "",
    output: Annotated[
        Path,
        typer.Option("-o", "--output", metavar="FILE", help="File to write: .pdf, .html or .svg."),
    ] = Path("drawings.pdf"),
    policy: Policy = PolicyChoice.REVERSIBLE,
    paper: Paper = PaperChoice.A4,
    chart_paper: Annotated[
        ChartPaperChoice | None,
        choice("Paper of the chart (else the smallest from A3 that holds it).", ChartPaperChoice),
    ] = None,
    glue: Annotated[
        bool, typer.Option("--glue", help="Chart in full size on several sheets, to glue.")
    ] = False,
    before_after: Annotated[
        bool,
        typer.Option("--before-after", help="Only what changes, before and after side by side."),
    ] = False,
    state: Annotated[
        StateChoice | None,
        choice("Draw the currents of one configuration in this state.", StateChoice),
    ] = None,
    units: Units = UnitsChoice.BOTH,
    english: English = None,
    date_: Issued = "",
) -> None:
    """
    Draw what changes, where it is, and the finished vehicle.

    The finished vehicle is a chart for the wall: every wire in the colours of its insulation, the
    letters of the colours beside them. With one configuration it is all that is drawn. With -o
    x.svg each picture is a file of its own: x_where.svg, x_change_1.svg and so on.

    With --state one configuration is drawn with its currents: wide lines carry much.

    Example: upgrade-planner drawings van_original_resistance van_upgraded -o drawings.pdf
    """
    from upgrade_planner.jobs import drawings as job

    request = job.DrawingRequest(
        before=before,
        after=after,
        target=output,
        issued=date_of_issue(date_),
        policy=policy.value,
        paper=paper.value,
        chart_paper=chart_paper.value if chart_paper else "",
        is_glued=glue,
        before_after=before_after,
        state=state.value if state else "",
        units=units.value,
        english=english_words(english),
    )
    with Progress() as progress:
        written = job.drawings(request, progress.say)
    for path in written:
        say(str(path))
