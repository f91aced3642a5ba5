"""From names to the papers of a quotation: the call behind the command, and for scripts."""

from collections.abc import Iterator, Mapping, Sequence
from datetime import date
from pathlib import Path

from attrs import evolve, field

from upgrade_planner.attributes import frozen
from upgrade_planner.comparison.results import Policy
from upgrade_planner.configuration.files.translations import translations
from upgrade_planner.documents.quote.internal import internal_offer, phase_words
from upgrade_planner.documents.quote.logos import logo_address
from upgrade_planner.documents.quote.offer_page import quote_view
from upgrade_planner.documents.quote.quote_data import (
    internal_json,
    internal_xlsx,
    quote_json,
    quote_xlsx,
)
from upgrade_planner.documents.quote.quote_views import QuoteView
from upgrade_planner.documents.shared.writing import NotWritten, require_target, write_all
from upgrade_planner.documents.words.english import language_for
from upgrade_planner.documents.words.figures import ENGLISH
from upgrade_planner.documents.words.speech import speech_of
from upgrade_planner.kit.job_file import NO_JOB_FILE, JobFile
from upgrade_planner.kit.labour_table import read_labour_table, shipped_labour_table
from upgrade_planner.kit.prices.price_list import PriceList
from upgrade_planner.kit.prices.shop_files import load_prices, price_settings, shipped_shop
from upgrade_planner.library.collected import Say
from upgrade_planner.planning.own_car import load_job
from upgrade_planner.quote.made import Made, Terms, made_offers
from upgrade_planner.quote.offer import Shop
from upgrade_planner.quote.rates import read_rates, shipped_rates

CUSTOMER_SUFFIXES = (".pdf", ".html", ".json", ".xlsx")
INTERNAL_SUFFIXES = (".pdf", ".json", ".xlsx")


@frozen(kw_only=True)
class QuoteRequest:
    """
    What a quotation shall be.

    Attributes:
        before: Name or path of the configuration as it is.
        after: Names or paths of what may be made of it: an offer for each.
        target: The customer's file; its suffix decides the format.
        issued: Date of the offer; the only date that enters the files, with the end of validity.
        internal: The shop's own file, if wanted.
        rates, labour, prices: The shop's files; those of the invented shop where None.
        is_strict: Whether a faulty row refuses the price list.
        stages: Names or paths of configurations in between: a job in visits as a choice.
        job: What the shop writes down about the job: customer, numbers, work added by hand.
        language: One of `quote.rates.LANGUAGES`; "" for that of the rates.
        units: `metric`, `us` or `both`.
        english: `us` or `uk` words; "" for those of the vehicle's trade.
    """

    before: str
    after: tuple[str, ...]
    target: Path
    issued: date
    internal: Path | None = None
    rates: Path | None = None
    labour: Path | None = None
    prices: Path | None = None
    is_strict: bool = False
    policy: Policy = field(default=Policy.REVERSIBLE, converter=Policy)
    stages: tuple[str, ...] = ()
    job: JobFile = NO_JOB_FILE
    language: str = ""
    paper: str = "A4"
    units: str = "both"
    english: str = ""


@frozen(kw_only=True, eq=False)
class Quotation:
    """
    What was written.

    Attributes:
        view: As the customer's papers show it, in their language.
        own_view: The same in English, for the shop.
        prices: The list, with what of it could not be read.
    """

    prices: PriceList
    offers: tuple[Made, ...]
    view: QuoteView
    own_view: QuoteView

    @property
    def invented(self) -> str:
        """What of it is invented, as a sentence for the shop; "" for nothing."""
        return self.own_view.invented


def quote(request: QuoteRequest, say: Say = lambda _: None) -> Quotation:
    """
    Computes the offers and writes their papers, all of them or none.

    Args:
        request: What to offer and where to write.
        say: Told what is being done, for a person who waits.

    Raises:
        PlannerError: faulty input, or a target that cannot be written; nothing is left half done.
    """
    _require_targets(request)
    say("reading")
    terms = _terms(request)
    loaded = load_job(request.before, *request.after, *request.stages)
    before, *others = loaded.configurations
    after = others[: len(request.after)]
    terms = evolve(terms, stages=tuple(others[len(request.after) :]))
    say("computing")
    made = made_offers(before, after, terms)
    own_view = _view(made, request, ENGLISH)
    language = request.language or terms.shop.rates.offer.language
    view = own_view if language == ENGLISH else _view(made, request, language)
    say("laying out")
    contents = {request.target: _customer(view, made, request)}
    if request.internal is not None:
        contents[request.internal] = _internal(own_view, made, request)
    write_all(contents)
    return Quotation(prices=terms.prices, offers=made, view=view, own_view=own_view)


def _view(made: Sequence[Made], request: QuoteRequest, language: str) -> QuoteView:
    return quote_view(
        made,
        speech_of(language, _translated(made, request, language), request.units),
        invented=_invented(request),
        job=request.job,
        logo=logo_address(request.rates, made[0].customer.letterhead.logo),
    )


def _translated(made: Sequence[Made], request: QuoteRequest, language: str) -> Mapping[str, str]:
    """Translations beside the profiles, then beside the shop's files."""
    comparison = made[0].plan.comparison
    files = [comparison.before.file, *(one.plan.comparison.after.file for one in made)]
    folders = [Path(file).parent for file in files if file]
    rates = request.rates.parent if request.rates else shipped_shop()
    return translations(language.partition("-")[0], [*folders, rates])


def _require_targets(request: QuoteRequest) -> None:
    for target, suffixes in (
        (request.target, CUSTOMER_SUFFIXES),
        (request.internal, INTERNAL_SUFFIXES),
    ):
        if target is not None:
            require_target(target, suffixes, inputs=_inputs(request))
    if request.internal is not None and request.internal.resolve() == request.target.resolve():
        raise NotWritten(
            f"{request.internal}: found the same file for customer and shop; expected two files, "
            "for the shop's own shows cost and margin"
        )


def _inputs(request: QuoteRequest) -> Iterator[Path | str | None]:
    yield from (request.before, *request.after, *request.stages)
    yield from (request.rates, request.labour, request.prices)
    if request.prices is not None:
        yield price_settings(request.prices).path


def _terms(request: QuoteRequest) -> Terms:
    rates = shipped_rates() if request.rates is None else read_rates(request.rates)
    labour = shipped_labour_table() if request.labour is None else read_labour_table(request.labour)
    return Terms(
        shop=Shop(rates=rates, labour=labour),
        prices=load_prices(request.prices or shipped_shop(), is_strict=request.is_strict),
        policy=request.policy,
        given=request.issued,
        job=request.job,
    )


def _invented(request: QuoteRequest) -> tuple[str, ...]:
    """What comes from the invented shop, for the customer must not take it for an offer."""
    files = {"shop": request.rates, "labour": request.labour, "prices": request.prices}
    return tuple(name for name, path in files.items() if path is None)


# Papers -----------------------------------------------------------------------------------------


def _customer(view: QuoteView, made: Sequence[Made], request: QuoteRequest) -> bytes:
    suffix = request.target.suffix.lower()
    if suffix == ".json":
        return quote_json(view, request.issued, made[0].customer.valid_until).encode()
    if suffix == ".xlsx":
        return quote_xlsx(view, request.issued, request.paper)
    from upgrade_planner.documents.shared.html import template_html

    html = template_html(
        "quote/quote.html.jinja",
        paper=request.paper,
        embed_fonts=suffix == ".html",
        view=view,
        language=_page_language(view, made, request),
    )
    if suffix == ".html":
        return html.encode()
    from upgrade_planner.documents.shared.pdf import page_pdf

    return page_pdf(html, request.issued)


def _page_language(view: QuoteView, made: Sequence[Made], request: QuoteRequest) -> str:
    """That of the texts; English of no country takes the words of the vehicle's trade."""
    language = view.speech.texts.language
    if language != ENGLISH:
        return language
    return language_for(request.english, made[0].plan.comparison.before.vehicle)


def _internal(view: QuoteView, made: Sequence[Made], request: QuoteRequest) -> bytes:
    assert request.internal is not None
    suffix = request.internal.suffix.lower()
    offers = tuple(internal_offer(one, view.speech) for one in made)
    if suffix == ".json":
        return internal_json(offers, request.issued, view.invented, view.currency.code).encode()
    if suffix == ".xlsx":
        return internal_xlsx(view, offers, request.issued, request.paper)
    from upgrade_planner.documents.shared.html import template_html
    from upgrade_planner.documents.shared.pdf import page_pdf

    html = template_html(
        "quote/internal.html.jinja",
        paper=request.paper,
        embed_fonts=False,
        view=view,
        offers=offers,
        phase_words=phase_words,
        language=language_for(request.english, made[0].plan.comparison.before.vehicle),
    )
    return page_pdf(html, request.issued)
