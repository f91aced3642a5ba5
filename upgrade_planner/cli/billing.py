"""Commands for an offer that a customer orders: accepting it, and its invoice."""

from pathlib import Path
from typing import Annotated

import typer

from upgrade_planner.cli.application import app
from upgrade_planner.cli.outputs import Format, destination, output_option
from upgrade_planner.cli.parameters import Issued, Mail, Paper, PaperChoice, Progress, ShopFolder
from upgrade_planner.cli.saying import say
from upgrade_planner.jobs.issuing import date_of_issue

KeptOffer = Annotated[
    Path,
    typer.Argument(
        metavar="OFFER",
        help="A numbered offer: the .json that 'quote --shop' keeps, or 'quote -o' wrote.",
        show_default=False,
    ),
]


@app.command()
def accept(
    offer: KeptOffer,
    letter: Annotated[
        str,
        typer.Option("--offer", metavar="LETTER", help="Which of several: A, B, C …"),
    ] = "",
    date_: Issued = "",
) -> None:
    """
    Note that the customer has ordered an offer.

    It is written into the file of the offer; nothing that was offered changes. A draft, or an offer
    that leaves a danger, cannot be ordered. 'invoice' then bills what was ordered.

    Example: upgrade-planner accept my_shop/offers/2026-041.json --date 2026-03-09

    Example: upgrade-planner accept my_shop/offers/2026-042.json --offer B
    """
    from upgrade_planner.jobs import accept as job

    made = job.accept(offer, letter=letter.upper(), day=date_of_issue(date_))
    say(f"{offer}: {made.number} ordered: {made.title}, {made.to_pay} {made.currency}")
    if made.deposit:
        say(f"The offer asks {made.deposit} {made.currency} with the order.")
    if made.is_late:
        say("The offer was no longer valid on that day.", err=True)


@app.command()
def invoice(
    offer: KeptOffer,
    output: Annotated[Path, output_option("Invoice to write: .pdf, .html or .json.")] = Path(
        "invoice.pdf"
    ),
    form: Format = "",
    number: Annotated[
        str,
        typer.Option(metavar="TEXT", help="Number of the invoice.", show_default=False),
    ] = "",
    delivered: Annotated[
        str,
        typer.Option(metavar="DATE", help="When the work was done, YYYY-MM-DD (else --date)."),
    ] = "",
    paid: Annotated[
        str, typer.Option(metavar="AMOUNT", help="Paid before, such as a deposit: 200.00.")
    ] = "",
    accounts: Annotated[
        Path | None,
        typer.Option(
            metavar="FILE",
            help="Lines for the accounts besides, one for each kind of charge and tax class: .csv.",
        ),
    ] = None,
    mail: Mail = None,
    shop: ShopFolder = None,
    paper: Paper = PaperChoice.A4,
    date_: Issued = "",
) -> None:
    """
    Write the invoice for an offer that the customer has accepted.

    It has the words and sums of the offer. It is refused where the offer was changed by hand, or
    where its configurations give another plan by now. The number is noted in the file of the offer:
    no other invoice of that folder may have it, and the same invoice can be written again.

    Example: upgrade-planner invoice my_shop/offers/2026-041.json --number R-17 --shop my_shop
    --delivered 2026-03-20 --accounts R-17.csv -o R-17.pdf
    """
    from upgrade_planner.jobs import invoice as job
    from upgrade_planner.jobs.job_papers import invoice_number, paid_before
    from upgrade_planner.jobs.shop import RATES, shop_file

    with destination(output, form) as to, Progress() as progress:
        request = job.InvoiceRequest(
            offer=offer,
            target=to.target,
            number=invoice_number(number),
            issued=date_of_issue(date_),
            delivered=date_of_issue(delivered, "--delivered") if delivered else None,
            paid=paid_before(paid),
            accounts=accounts,
            mail=mail,
            rates=shop_file(shop, RATES),
            paper=paper.value,
        )
        made = job.invoice(request, progress.say)
    to.tell(f"{to.name_of(to.target)}: invoice {made.number}, to pay {made.money(made.due)}")
    for path in filter(None, (accounts, mail)):
        to.tell(f"{path}: besides")
    if made.without_a_price:
        say("Not in it: what had no price in the offer.", err=True)
