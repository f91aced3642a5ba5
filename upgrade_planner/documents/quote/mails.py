"""Text for an e-mail that goes with an offer or an invoice: a subject, then lines to be pasted."""

from collections.abc import Iterator, Sequence

from upgrade_planner.documents.quote.invoice_views import InvoiceView
from upgrade_planner.documents.quote.quote_views import OfferView, QuoteView
from upgrade_planner.documents.words.speech import Speech
from upgrade_planner.documents.words.wording import NBSP


def offer_mail(view: QuoteView) -> str:
    """The text that goes with an offer."""
    say = view.speech.say
    told = say("mail.offer", number=view.number, day=view.given, vehicle=view.vehicle)
    offers = (_offer(offer, view) for offer in view.offers)
    dangers = [say("danger.sentence")] if any(offer.dangers for offer in view.offers) else []
    kinds = dict.fromkeys(offer.kind_words for offer in view.offers)
    body = [told, "\n".join(offers), *dangers]
    body += [*(kinds if len(view.offers) == 1 else ()), say("terms.valid", day=view.valid_until)]
    return _letter(view, view.speech, [*body, view.closing])


def _offer(offer: OfferView, view: QuoteView) -> str:
    say, title = view.speech.say, offer.title
    if offer.letter:
        title = say("compared.offer", letter=offer.letter, title=title)
    key = "mail.one_open" if offer.open_words else "mail.one"
    return say(key, title=title, to_pay=view.money(offer.to_pay), open=offer.open_words)


def invoice_mail(view: InvoiceView) -> str:
    """The text that goes with an invoice."""
    say = view.speech.say
    told = say("mail.invoice", number=view.number, day=view.given, vehicle=view.vehicle)
    due = say("mail.due", due=view.money(view.due))
    return _letter(view, view.speech, [told, due, *view.payment])


def _letter(view: QuoteView | InvoiceView, speech: Speech, body: Sequence[str]) -> str:
    return "\n\n".join(filter(None, _parts(view, speech, body))).replace(NBSP, " ") + "\n"


def _parts(view: QuoteView | InvoiceView, speech: Speech, body: Sequence[str]) -> Iterator[str]:
    yield speech.say("mail.subject", title=view.title, number=view.number, vehicle=view.vehicle)
    name = view.customer[0] if view.customer else ""
    yield speech.say("mail.greeting", name=name) if name else speech.say("mail.nobody")
    yield from body
    head = view.letterhead
    lines = (speech.say("mail.regards"), head.name, *head.address, head.contact)
    yield "\n".join(filter(None, lines))
    yield view.invented
