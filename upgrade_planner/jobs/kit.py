"""From names to the files of a kit: the call behind the command, for scripts too."""

from datetime import date
from decimal import Decimal
from pathlib import Path

from attrs import evolve, field

from upgrade_planner.attributes import frozen
from upgrade_planner.comparison.results import Policy
from upgrade_planner.configuration.files.translations import translations
from upgrade_planner.configuration.tables.csv_files import csv_bytes
from upgrade_planner.documents.kit.kit_page import kit_view
from upgrade_planner.documents.kit.kit_views import KitView
from upgrade_planner.documents.shared.writing import NotWritten, require_target, write_all
from upgrade_planner.documents.words.english import language_for
from upgrade_planner.kit.job_file import NO_JOB_FILE, JobFile
from upgrade_planner.kit.order_file import ordered_upgrades
from upgrade_planner.kit.packing import Kit, OrderedUpgrade, packed, planned_job
from upgrade_planner.kit.prices.money import Currency
from upgrade_planner.kit.prices.price_list import PriceList, require_currency
from upgrade_planner.kit.prices.shop_files import load_prices, price_settings, shipped_shop
from upgrade_planner.library.collected import Say
from upgrade_planner.quote.rates import Rates, read_rates

SUFFIXES = (".pdf", ".html", ".csv", ".xlsx", ".json")
ORDER_SUFFIXES = (".pdf", ".html", ".csv")
LABEL_SUFFIXES = (".pdf",)
NEEDED_SUFFIXES = (".csv", ".xlsx")
RATES = "rates.toml"


__all__ = ["Kit", "KitRequest", "OrderedUpgrade", "kit", "kit_html", "ordered_upgrades"]


@frozen(kw_only=True)
class KitRequest:
    """
    What shall be ordered and written.

    Attributes:
        pairs: The upgrades.
        target: File to write; its suffix decides the format.
        labels: PDF of the labels, or None.
        to_order: Orders to the suppliers for what is missing, or None.
        needed: CSV or XLSX of what the price list has not, or None.
        prices: As at `shop_files.load_prices`; None for the invented list of the program.
        is_strict: Whether a faulty row refuses the list.
        spare_percent: Packed beyond the need.
        takes_alternatives: As at `kit.orders.order`.
        issued: Date of issue; the only date that enters the files.
    """

    pairs: tuple[OrderedUpgrade, ...]
    target: Path
    issued: date
    labels: Path | None = None
    to_order: Path | None = None
    needed: Path | None = None
    prices: Path | None = None
    spare_percent: Decimal = Decimal(0)
    takes_alternatives: bool = False
    is_strict: bool = False
    policy: Policy = field(default=Policy.REVERSIBLE, converter=Policy)
    paper: str = "A4"
    units: str = "both"
    english: str = ""
    """`us` or `uk` words; "" for those of the first vehicle's trade."""
    shows_amounts: bool = False
    """Whether each line of the pick list says what it costs."""
    shows_codes: bool = False
    """Whether each line of the pick list has its number as a code to scan."""
    job: JobFile = NO_JOB_FILE
    """What the shop writes down about the job: number, customer, order."""


def kit(request: KitRequest, say: Say = lambda _: None) -> Kit:
    """
    Plans all jobs, makes one order of them and writes its files, all of them or none.

    Args:
        request: What to order and where to write.
        say: Told what is being done, for a person who waits.

    Raises:
        PlannerError: faulty input, or a target that cannot be written; nothing is left half done.
    """
    _require_targets(request)
    kit = _kit(request, say)
    say("laying out")
    view = kit_view(
        kit,
        date=request.issued.isoformat(),
        units=request.units,
        number=request.job.job.full_number,
        whose=request.job.whose,
        shows_amounts=request.shows_amounts,
        shows_codes=request.shows_codes,
    )
    contents = {request.target: _rendered(kit, view, request)}
    if request.to_order is not None:
        contents[request.to_order] = _to_order(kit, view, request)
    if request.labels is not None:
        say("laying out labels")
        contents[request.labels] = _label_sheets(kit, view, request)
    if request.needed is not None:
        contents[request.needed] = _needed(kit, request)
    write_all(contents)
    return kit


def _kit(request: KitRequest, say: Say) -> Kit:
    say("reading prices")
    folder = request.prices or shipped_shop()
    prices = load_prices(folder, is_strict=request.is_strict)
    currency = _currency(folder, prices)
    jobs = []
    for number, pair in enumerate(request.pairs, start=1):
        say(f"planning job {number}")
        jobs.append(planned_job(pair, request.policy))
    return packed(
        jobs,
        prices,
        spare_percent=request.spare_percent,
        takes_alternatives=request.takes_alternatives,
        currency=currency,
        is_demo=request.prices is None,
    )


def _currency(folder: Path, prices: PriceList) -> Currency | None:
    """
    How the shop prints money, if a file `rates.toml` lies beside its price list.

    Raises:
        ConfigurationError: a faulty file, or one in another currency than the list.
    """
    rates = _rates(folder)
    if rates is None:
        return None
    require_currency(prices, rates.currency.code)
    return rates.currency


def _rates(folder: Path) -> Rates | None:
    """Those beside the price list; None if there is no such file."""
    file = price_settings(folder).path.parent / RATES
    return read_rates(file) if file.is_file() else None


def _require_targets(request: KitRequest) -> None:
    names = [name for pair in request.pairs for name in pair.configurations]
    prices = request.prices and price_settings(request.prices).path
    inputs = (*names, request.prices, prices)
    require_target(request.target, SUFFIXES, inputs=inputs)
    others = (
        (request.labels, LABEL_SUFFIXES, "labels"),
        (request.needed, NEEDED_SUFFIXES, "needs"),
        (request.to_order, ORDER_SUFFIXES, "orders to suppliers"),
    )
    for target, suffixes, words in others:
        if target is None:
            continue
        if target.absolute() == request.target.absolute():
            raise NotWritten(f"{target}: found one file for kit and {words}; expected two")
        require_target(target, suffixes, inputs=inputs)
    if request.needed is not None and request.needed.exists():
        raise NotWritten(
            f"{request.needed}: found a file of that name, which somebody may have filled; "
            "expected a new name"
        )


def _needed(kit: Kit, request: KitRequest) -> bytes:
    """Rows in the style of the shop's own list."""
    from upgrade_planner.documents.kit.needed_list import needed_csv, needed_xlsx

    assert request.needed is not None
    style = price_settings(request.prices or shipped_shop()).style
    style = evolve(style, mark=style.mark or kit.prices.mark)
    if request.needed.suffix.lower() == ".csv":
        return csv_bytes(needed_csv(kit, style))
    return needed_xlsx(kit, style, request.issued, request.paper)


def _to_order(kit: Kit, view: KitView, request: KitRequest) -> bytes:
    """Orders to the suppliers, in the language of the shop's rates."""
    from upgrade_planner.documents.kit.supplier_order import supplier_csv, supplier_order
    from upgrade_planner.documents.words.speech import speech_of

    assert request.to_order is not None
    rates = _rates(request.prices or shipped_shop())
    language = rates.offer.language if rates else "en"
    folders = [price_settings(request.prices or shipped_shop()).path.parent]
    speech = speech_of(language, translations(language.partition("-")[0], folders), request.units)
    order = supplier_order(
        kit,
        speech,
        number=view.number,
        date=view.date,
        given=speech.day(request.issued),
        letterhead=rates.letterhead if rates else None,
    )
    suffix = request.to_order.suffix.lower()
    if suffix == ".csv":
        return csv_bytes(supplier_csv(order))
    from upgrade_planner.documents.shared.html import template_html

    html = template_html(
        "kit/supplier_order.html.jinja",
        paper=request.paper,
        embed_fonts=suffix == ".html",
        view=order,
        language=language,
    )
    if suffix == ".html":
        return html.encode()
    from upgrade_planner.documents.shared.pdf import page_pdf

    return page_pdf(html, request.issued)


def _rendered(kit: Kit, view: KitView, request: KitRequest) -> bytes:
    match request.target.suffix.lower():
        case ".json":
            from upgrade_planner.documents.kit.kit_json import kit_json

            return kit_json(kit, request.issued.isoformat()).encode()
        case ".csv":
            from upgrade_planner.documents.kit.kit_tables import kit_csv

            return csv_bytes(kit_csv(kit, view))
        case ".xlsx":
            from upgrade_planner.documents.kit.kit_tables import kit_xlsx

            return kit_xlsx(kit, view, request.issued, request.paper)
        case ".html":
            return kit_html(
                view, paper=request.paper, embed_fonts=True, language=_language(kit, request)
            ).encode()
    from upgrade_planner.documents.shared.pdf import page_pdf

    html = kit_html(view, paper=request.paper, language=_language(kit, request))
    return page_pdf(html, request.issued)


def _language(kit: Kit, request: KitRequest) -> str:
    return language_for(request.english, kit.jobs[0].plans[0].comparison.before.vehicle)


def kit_html(
    view: KitView, *, paper: str = "A4", embed_fonts: bool = False, language: str = "en"
) -> str:
    """The pick list as HTML; equal inputs give equal text."""
    from upgrade_planner.documents.shared.html import template_html

    return template_html(
        "kit/kit.html.jinja", paper=paper, embed_fonts=embed_fonts, view=view, language=language
    )


def _label_sheets(kit: Kit, view: KitView, request: KitRequest) -> bytes:
    from upgrade_planner.documents.kit.labels import labels_html
    from upgrade_planner.documents.shared.pdf import page_pdf

    title = f"Labels, {view.number}"
    html = labels_html(
        kit,
        paper=request.paper,
        units=request.units,
        title=title,
        whose=request.job.whose,
        language=_language(kit, request),
    )
    return page_pdf(html, request.issued)
