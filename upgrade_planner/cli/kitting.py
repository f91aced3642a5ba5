"""Command that packs: one order for one or several upgrades."""

from decimal import Decimal, InvalidOperation
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from upgrade_planner.cli.application import app
from upgrade_planner.cli.outputs import Format, destination, output_option
from upgrade_planner.cli.parameters import (
    DANGER,
    Before,
    CustomerName,
    English,
    Issued,
    JobPapers,
    Paper,
    PaperChoice,
    Policy,
    PolicyChoice,
    Prices,
    Progress,
    ShopFolder,
    StagesAndAfter,
    Strict,
    Units,
    UnitsChoice,
    english_words,
)
from upgrade_planner.cli.saying import say
from upgrade_planner.errors import PlannerError
from upgrade_planner.jobs.issuing import date_of_issue

if TYPE_CHECKING:
    from upgrade_planner.jobs.kit import Kit, OrderedUpgrade

MOST_VEHICLES = 999
LARGEST_SPARE_PERCENT = 100
"""Both: our assumption; more is a slip of the finger."""


NO_NAMES: list[str] = []
"""Where all jobs stand in a file."""


class WrongOption(PlannerError):
    """The text of an option cannot be read."""


@app.command()
def kit(
    before: Before = "",
    after: StagesAndAfter = NO_NAMES,
    output: Annotated[
        Path, output_option("File to write: .pdf, .html, .csv, .xlsx or .json.")
    ] = Path("kit.pdf"),
    form: Format = "",
    shop: ShopFolder = None,
    prices: Prices = None,
    strict: Strict = False,
    jobs: Annotated[
        str, typer.Option("--jobs", metavar="N", help="Vehicles alike, 1 to 999.")
    ] = "1",
    further: Annotated[
        list[str] | None,
        typer.Option(
            "--and",
            metavar="BEFORE:AFTER[:N]",
            help="A further upgrade in the same order, for N vehicles (else as many as --jobs "
            "says); again for each.",
        ),
    ] = None,
    order_file: Annotated[
        Path | None,
        typer.Option(
            "--order",
            metavar="FILE",
            help="All jobs of the order, in place of BEFORE and AFTER: an order.toml with a table "
            "[[job]] for each: before, after, vehicles, customer, order.",
        ),
    ] = None,
    spare: Annotated[
        str,
        typer.Option(
            "--spare", metavar="PERCENT", help="Percent to pack beyond the need, 0 to 100."
        ),
    ] = "0",
    takes_alternatives: Annotated[
        bool,
        typer.Option(
            "--take-alternatives",
            help="Where the shelf has too little, pack what may stand in for it.",
        ),
    ] = False,
    labels: Annotated[
        Path | None,
        typer.Option(
            "--labels", metavar="FILE", help="Write labels for bags and wires too: a .pdf."
        ),
    ] = None,
    needed: Annotated[
        Path | None,
        typer.Option(
            "--needed",
            metavar="FILE",
            help="Write what the price list has not too, as rows to fill and copy into it: .csv or "
            ".xlsx.",
        ),
    ] = None,
    to_order: Annotated[
        Path | None,
        typer.Option(
            "--to-order",
            metavar="FILE",
            help="Write what is missing too, as orders to the suppliers with their numbers: .pdf, "
            ".html or .csv.",
        ),
    ] = None,
    line_prices: Annotated[
        bool,
        typer.Option("--line-prices", help="Print what each line of the pick list costs."),
    ] = False,
    line_codes: Annotated[
        bool,
        typer.Option(
            "--line-codes", help="Print the number of each line of the pick list to scan, too."
        ),
    ] = False,
    policy: Policy = PolicyChoice.REVERSIBLE,
    paper: Paper = PaperChoice.A4,
    units: Units = UnitsChoice.BOTH,
    english: English = None,
    date_: Issued = "",
    number: Annotated[
        str,
        typer.Option(metavar="TEXT", help="Number of the list (else from its code)."),
    ] = "",
    job_file: JobPapers = None,
    customer: CustomerName = "",
) -> None:
    """
    Write what a parts counter packs, cuts and has to order.

    It holds the pick list, the cutting list, the bags, what is missing, and the total. Several
    upgrades go into one order with --and. With more than one AFTER, or with more than one colon-
    separated AFTER behind --and, each stage has bags of its own.

    Example: upgrade-planner kit van_as_found van_upgraded --needed new_articles.csv

    Example: upgrade-planner kit van_as_found van_upgraded --jobs 2 --and
    tractor_original:tractor_upgraded:1 --spare 5 -o kit.pdf --labels labels.pdf
    """
    from upgrade_planner.documents.terminal.orders import kit_line, list_lines, needed_line
    from upgrade_planner.jobs import kit as job
    from upgrade_planner.jobs.job_papers import job_papers
    from upgrade_planner.jobs.shop import shop_list

    times = _vehicles(jobs, "--jobs")
    pairs = (
        *_first(before, after, order_file, times),
        *(_pair(text, times) for text in further or ()),
    )
    with destination(output, form) as to, Progress() as progress:
        request = job.KitRequest(
            pairs=pairs,
            target=to.target,
            labels=labels,
            needed=needed,
            to_order=to_order,
            shows_amounts=line_prices,
            shows_codes=line_codes,
            prices=prices or shop_list(shop),
            is_strict=strict,
            spare_percent=_spare(spare),
            takes_alternatives=takes_alternatives,
            issued=date_of_issue(date_),
            policy=policy.value,
            paper=paper.value,
            units=units.value,
            english=english_words(english),
            job=job_papers(job_file, number=number, customer=customer),
        )
        made = job.kit(request, progress.say)
    for line in list_lines(made.prices):
        typer.echo(line, err=True)
    to.tell(kit_line(to.name_of(output), made))
    if needed is not None:
        to.tell(needed_line(needed, made))
    _say_danger(made)


def _say_danger(made: "Kit") -> None:
    numbers = [str(n) for n, job in enumerate(made.jobs, start=1) if job.has_danger]
    if numbers:
        say(
            f"A danger finding stands in job {' and '.join(numbers)}: see the first page.", err=True
        )
        raise typer.Exit(DANGER)


def _first(
    before: str, after: list[str], order: Path | None, times: int
) -> tuple["OrderedUpgrade", ...]:
    """The upgrade of the arguments, or those of a file."""
    from upgrade_planner.jobs import kit as job

    if order is None and before and after:
        return (job.OrderedUpgrade(configurations=(before, *after), times=times),)
    if order is None or before:
        found = "both BEFORE and --order" if order else "no BEFORE and AFTER"
        raise WrongOption(f"kit: found {found}; expected BEFORE and AFTER, or --order FILE")
    return job.ordered_upgrades(order)


def _pair(text: str, times: int) -> "OrderedUpgrade":
    """`BEFORE:AFTER`, `BEFORE:AFTER:2`, `BEFORE:STAGE:AFTER`."""
    from upgrade_planner.jobs.kit import OrderedUpgrade

    *names, last = text.split(":")
    if last.isascii() and last.removeprefix("-").isdigit():
        times = _vehicles(last, f"--and {text}")
    else:
        names.append(last)
    if len(names) < 2 or not all(names):
        raise WrongOption(
            f"--and: found '{text}'; expected BEFORE:AFTER or BEFORE:AFTER:N, such as "
            "van_as_found:van_upgraded:2"
        )
    return OrderedUpgrade(configurations=tuple(names), times=times)


def _vehicles(text: str, option: str) -> int:
    if text.isascii() and text.isdigit() and len(text) <= 6 and 1 <= int(text) <= MOST_VEHICLES:
        return int(text)
    raise WrongOption(
        f"{option}: found '{text}'; expected a whole number of vehicles, 1 to {MOST_VEHICLES}"
    )


def _spare(text: str) -> Decimal:
    try:
        percent = Decimal(text.strip().removesuffix("%"))
    except InvalidOperation:
        percent = Decimal("NaN")
    if not percent.is_finite() or not 0 <= percent <= LARGEST_SPARE_PERCENT:
        raise WrongOption(f"--spare: found '{text}'; expected percent, 0 to 100, such as 5 or 2.5")
    return percent
