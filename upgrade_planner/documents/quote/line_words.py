"""Lines, stretches of work, other ways and remarks of an offer in words."""

from collections.abc import Iterable
from decimal import Decimal

from upgrade_planner.documents.quote.quote_words import stands_at
from upgrade_planner.documents.words.speech import Speech
from upgrade_planner.documents.words.wording import NBSP
from upgrade_planner.kit.articles import Article
from upgrade_planner.kit.common_needs import CommonNeed
from upgrade_planner.planning.plan import Plan
from upgrade_planner.quote.made import Choice
from upgrade_planner.quote.offer import CustomerLine
from upgrade_planner.quote.priced import PricedLine
from upgrade_planner.quote.remarks import Remark
from upgrade_planner.quote.rows import LabourSum


def line_words(line: PricedLine | CustomerLine, speech: Speech) -> str:
    """What a line charges for."""
    if line.article is not None:
        return speech.article(line.article)
    own = ", ".join(map(speech.own, line.names))
    key = f"charge.{line.charge}"
    return speech.say(key, own=own) if speech.texts.has(key) else own


def labour_words(labour: LabourSum, speech: Speech) -> str:
    """What a customer sees being done; extra work has the shop's own name."""
    own = ", ".join(map(speech.own, labour.names))
    return own or speech.say(f"stretch.{labour.stretch}")


def choice_words(choice: Choice, plan: Plan, speech: Speech) -> str:
    """Another way in a sentence."""
    renewed = (stands_at(name, plan, speech) for name in choice.renewed)
    return speech.say(
        f"choices.{choice.way}",
        visits=len(choice.stages) + 1,
        stages=speech.say("choices.between_stages").join(map(speech.own, choice.stages)),
        renewed=", ".join(renewed),
    )


def remark_words(remark: Remark, plan: Plan, speech: Speech) -> str:
    """
    A remark in a sentence.

    What is commonly needed stands in `needs_words`, a finding among those that are left.
    """
    return speech.say(
        f"remarks.{remark.said}",
        title=speech.own(remark.title),
        note=_note_words(remark.note, speech),
        where=", ".join(stands_at(one, plan, speech) for one in remark.where),
    )


def needs_words(needs: Iterable[CommonNeed], speech: Speech) -> str:
    """What such jobs commonly need, in one sentence."""
    told = "; ".join(_need_words(need, speech) for need in needs)
    return speech.say("remarks.commonly needed", needs=told)


def _note_words(note: str, speech: Speech) -> str:
    """Conditions, each in words, or a note that somebody wrote."""
    keys = [f"conditions.{one}" for one in note.split(", ")]
    is_known = all(map(speech.texts.has, keys))
    return ", ".join(map(speech.say, keys)) if is_known else speech.own(note)


def _need_words(need: CommonNeed, speech: Speech) -> str:
    names = (speech.pointed(speech.own(name)) for name in need.names)
    return speech.say(f"needs.{need.code}", names=", ".join(names))


def open_words(count: int, speech: Speech) -> str:
    """`2 items without a price`; "" for none."""
    return speech.counted("open.items", count) if count else ""


def open_item_words(article: Article, quantity: Decimal, speech: Speech) -> str:
    """Something that has no price yet, with how much of it is needed."""
    amount = speech.amount(quantity, article.unit)
    return f"{speech.article(article)}, {amount}".replace(NBSP, " ")
