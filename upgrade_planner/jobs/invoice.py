"""From an accepted offer to its invoice: the call behind the command, and for scripts."""

from collections.abc import Iterator, Mapping
from datetime import date
from decimal import Decimal
from pathlib import Path

from upgrade_planner.attributes import frozen
from upgrade_planner.comparison.comparing import compare
from upgrade_planner.comparison.results import Policy
from upgrade_planner.configuration.files.shipped import find_profile, shipped_profiles
from upgrade_planner.configuration.files.translations import translations
from upgrade_planner.configuration.tables.csv_files import csv_bytes
from upgrade_planner.documents.quote.invoice_data import accounts_csv, invoice_json
from upgrade_planner.documents.quote.invoice_views import (
    Billing,
    InvoiceView,
    currency_of,
    invoice_view,
)
from upgrade_planner.documents.quote.kept import (
    NotKept,
    invoiced,
    kept_text,
    offer_of,
    read_kept,
)
from upgrade_planner.documents.quote.logos import logo_address
from upgrade_planner.documents.quote.mails import invoice_mail
from upgrade_planner.documents.quote.quote_shape import OfferData, QuotationData
from upgrade_planner.documents.shared.writing import require_target, write_all
from upgrade_planner.documents.words.speech import speech_of
from upgrade_planner.errors import PlannerError
from upgrade_planner.kit.prices.money import ZERO
from upgrade_planner.kit.prices.shop_files import shipped_shop
from upgrade_planner.library.collected import Say
from upgrade_planner.planning.own_car import load_job
from upgrade_planner.planning.plan import check_code_of
from upgrade_planner.quote.rates import read_rates, shipped_rates

SUFFIXES = (".pdf", ".html", ".json")


@frozen(kw_only=True)
class InvoiceRequest:
    """
    What an invoice shall be.

    Attributes:
        offer: The accepted offer: a quotation as JSON; what became of it is written into it.
        target: File to write; its suffix decides the format.
        number: Of the invoice.
        issued: Date of the invoice.
        delivered: When the work was done; None for the day of issue.
        paid: What the customer has paid before, such as a deposit.
        accounts: CSV file of the lines for the accounts, if wanted.
        mail: Text for an e-mail, if wanted.
        rates: The shop's file, for payment terms and logo; that of the invented shop where None.
    """

    offer: Path
    target: Path
    number: str
    issued: date
    delivered: date | None = None
    paid: Decimal = ZERO
    accounts: Path | None = None
    mail: Path | None = None
    rates: Path | None = None
    paper: str = "A4"


def invoice(request: InvoiceRequest, say: Say = lambda _: None) -> InvoiceView:
    """
    Writes the invoice of an accepted offer with its very sums, all files of it or none.

    Args:
        request: What to bill and where to write.
        say: Told what is being done, for a person who waits.

    Raises:
        ConfigurationError: a file cannot be read.
        PlannerError: an offer that is not accepted, was changed, or whose wiring is another by now;
            an invoice number that another offer has; a target that cannot be written.
    """
    _require_targets(request)
    say("reading")
    data = invoiced(request.offer, read_kept(request.offer), request.number, request.issued)
    offer = offer_of(request.offer, data, (data["accepted"] or {"letter": ""})["letter"])
    _require_facts(request, data, offer)
    say("computing")
    _require_same_wiring(request.offer, data, offer)
    billing = _billing(request, data, offer)
    translated = _translated(request, data["language"])
    view = invoice_view(data, offer, billing, speech_of(data["language"], translated))
    say("laying out")
    contents = {request.target: _rendered(view, data, offer, billing, request)}
    if request.accounts is not None:
        contents[request.accounts] = csv_bytes(accounts_csv(view, data, offer, billing))
    if request.mail is not None:
        contents[request.mail] = invoice_mail(view).encode()
    write_all({**contents, request.offer: kept_text(data).encode()})
    return view


def _require_targets(request: InvoiceRequest) -> None:
    inputs = (request.offer, request.rates)
    wanted: list[tuple[Path | None, tuple[str, ...]]] = [
        (request.target, SUFFIXES),
        (request.accounts, (".csv",)),
        (request.mail, (".txt",)),
    ]
    for target, suffixes in wanted:
        if target is not None:
            require_target(target, suffixes, inputs=inputs)


def _require_facts(request: InvoiceRequest, data: QuotationData, offer: OfferData) -> None:
    """What an invoice must have, and what it must not repeat."""
    if not request.number:
        raise PlannerError("--number: found none; expected the number of the invoice")
    if not data["customer"]:
        raise NotKept(
            f"{request.offer}: found no customer; expected an offer made with --job or --customer"
        )
    other = next(_others_with(request), None)
    if other is not None:
        raise NotKept(
            f"--number {request.number}: found it at {other}; expected a number that no other "
            "invoice has"
        )
    to_pay, step = Decimal(offer["to_pay"]), currency_of(data, offer).step
    if request.paid > to_pay or request.paid % step:
        raise PlannerError(f"--paid: found {request.paid}; expected at most {to_pay}, no finer")


def _others_with(request: InvoiceRequest) -> Iterator[Path]:
    """Offers in the same folder whose invoice has this number."""
    for path in sorted(request.offer.parent.glob("*.json")):
        if path.resolve() == request.offer.resolve():
            continue
        try:
            state = read_kept(path)["invoiced"]
        except PlannerError:  # no offer: it has no invoice
            continue
        if state is not None and state["number"] == request.number:
            yield path


def _require_same_wiring(path: Path, data: QuotationData, offer: OfferData) -> None:
    """
    Raises:
        NotKept: the configurations give another plan than the one that was offered.
    """
    names = [_as_seen_from(path, name) for name in (data["before_file"], offer["after_file"])]
    before, after = load_job(*names).configurations
    code = check_code_of(compare(before, after, Policy(data["policy"])))
    if code != offer["check_code"]:
        raise NotKept(
            f"{path}: found a wiring with check code {code}; expected {offer['check_code']}, as it "
            "was offered, or a new revision of the offer"
        )


def _as_seen_from(path: Path, name: str) -> str:
    if name in shipped_profiles("configuration"):
        return name
    return str(find_profile("configuration", name, beside=path))


def _billing(request: InvoiceRequest, data: QuotationData, offer: OfferData) -> Billing:
    rates = shipped_rates() if request.rates is None else read_rates(request.rates)
    return Billing(
        number=request.number,
        given=request.issued,
        delivered=request.delivered or request.issued,
        paid=request.paid.quantize(currency_of(data, offer).step),
        terms=rates.invoice,
        logo=logo_address(request.rates, rates.letterhead.logo),
    )


def _translated(request: InvoiceRequest, language: str) -> Mapping[str, str]:
    folder = request.rates.parent if request.rates else shipped_shop()
    return translations(language.partition("-")[0], [folder])


def _rendered(
    view: InvoiceView,
    data: QuotationData,
    offer: OfferData,
    billing: Billing,
    request: InvoiceRequest,
) -> bytes:
    suffix = request.target.suffix.lower()
    if suffix == ".json":
        return invoice_json(view, data, offer, billing).encode()
    from upgrade_planner.documents.shared.html import template_html

    html = template_html(
        "quote/invoice.html.jinja",
        paper=request.paper,
        embed_fonts=suffix == ".html",
        view=view,
        language=data["language"],
    )
    if suffix == ".html":
        return html.encode()
    from upgrade_planner.documents.shared.pdf import page_pdf

    return page_pdf(html, request.issued)
