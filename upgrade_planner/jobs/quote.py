"""From names to the papers of a quotation: the call behind the command, and for scripts."""

import json
import re
from collections.abc import Iterator, Mapping, Sequence
from datetime import date
from pathlib import Path

from attrs import evolve, field

from upgrade_planner.attributes import frozen
from upgrade_planner.comparison.results import Policy
from upgrade_planner.configuration.files.translations import translations
from upgrade_planner.documents.quote.internal import internal_offer, phase_words
from upgrade_planner.documents.quote.kept import NotKept, is_same_offer, read_kept
from upgrade_planner.documents.quote.logos import logo_address
from upgrade_planner.documents.quote.mails import offer_mail
from upgrade_planner.documents.quote.offer_page import quote_view
from upgrade_planner.documents.quote.quote_data import (
    internal_json,
    internal_xlsx,
    quote_json,
    quote_xlsx,
)
from upgrade_planner.documents.quote.quote_views import QuoteView
from upgrade_planner.documents.shared.writing import (
    NotWritten,
    folder_for,
    require_target,
    write_all,
)
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
MAIL_SUFFIXES = (".txt",)
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
        mail: Text for an e-mail, if wanted.
        keep: Folder in which numbered offers are kept; their numbers are then taken.
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
    mail: Path | None = None
    keep: Path | None = None
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
        kept: Where the offer is kept; None for a draft, or where nothing is kept.
        prices: The list, with what of it could not be read.
    """

    prices: PriceList
    offers: tuple[Made, ...]
    view: QuoteView
    own_view: QuoteView
    kept: Path | None = None

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
    if request.mail is not None:
        contents[request.mail] = offer_mail(view).encode()
    kept = _kept_at(view, made, request)
    with folder_for(kept):
        write_all({**contents, **_to_keep(kept, view, made, request)})
    return Quotation(prices=terms.prices, offers=made, view=view, own_view=own_view, kept=kept)


def _kept_at(view: QuoteView, made: Sequence[Made], request: QuoteRequest) -> Path | None:
    """Where a numbered offer is kept, so that its number is never given to another one."""
    if request.keep is None or not made[0].own_number:
        return None
    return request.keep / f"{_UNFIT_IN_NAMES.sub('_', view.number)}.json"


_UNFIT_IN_NAMES = re.compile(r"[^\w.-]|^\.")


def _to_keep(
    kept: Path | None, view: QuoteView, made: Sequence[Made], request: QuoteRequest
) -> Mapping[Path, bytes]:
    """
    The offer as it is kept; nothing if it is there already, whatever has become of it.

    Raises:
        NotKept: another offer has this number.
    """
    if kept is None:
        return {}
    text = _offer_text(view, made, request, kept)
    if not kept.exists():
        return {kept: text.encode()}
    before = read_kept(kept)
    if not is_same_offer(before, json.loads(text)["data"]):
        raise NotKept(
            f"--number {view.number}: found an offer of {before['date']} with it in {kept}; "
            "expected another number, or a new --revision"
        )
    return {}


def _offer_text(view: QuoteView, made: Sequence[Made], request: QuoteRequest, target: Path) -> str:
    return quote_json(view, made, target, (request.before, *request.after))


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
        (request.mail, MAIL_SUFFIXES),
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
        return _offer_text(view, made, request, request.target).encode()
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
