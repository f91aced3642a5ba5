"""Lines, stretches of work, other ways and remarks of an offer in words."""

from decimal import Decimal

from upgrade_planner.documents.words.amounts import amount_words
from upgrade_planner.documents.words.articles import words_of
from upgrade_planner.documents.words.needs import need_words, needs_heading
from upgrade_planner.documents.words.quantities import counted
from upgrade_planner.documents.words.wire_words import numbered_name
from upgrade_planner.documents.words.wording import NBSP
from upgrade_planner.kit.articles import Article
from upgrade_planner.planning.fact_values import Numbered
from upgrade_planner.quote.lines import Charge
from upgrade_planner.quote.made import Choice, OtherWay
from upgrade_planner.quote.offer import CustomerLine
from upgrade_planner.quote.priced import PricedLine
from upgrade_planner.quote.remarks import Remark, Said
from upgrade_planner.quote.rows import LabourSum, WorkShare

_BESIDE_RATE = {
    Charge.SETTING_UP: "setting up",
    Charge.DIAGNOSIS: "diagnostic block",
    Charge.OLD_VEHICLE: "allowance for an old vehicle",
}
_OF_PART = {
    Charge.DEPOSIT: "Deposit on exchange part",
    Charge.DEPOSIT_BACK: "Deposit back for the old part",
}
_RESERVE = "Reserve for what may be seized or altered"

_STRETCHES = {
    WorkShare.DIAGNOSIS: "Finding out what was altered before",
    WorkShare.MAKING_SAFE: "Making safe, opening up, recording what is there",
    WorkShare.TAKING_OUT: "Taking out what goes, insulating what stays unused",
    WorkShare.FITTING: "Fitting parts, running and joining new wires",
    WorkShare.TESTING: "Joining the battery and testing, dead and live",
    WorkShare.HANDING_OVER: "Running the engine, road test, handing over",
    WorkShare.OLD_VEHICLE: "Allowance for the age of the vehicle",
}
"""What a customer calls them; extra work has the shop's own name."""

_OTHER_WAYS = {
    OtherWay.IN_VISITS: "The work in {visits} visits instead of one: first {stages}, then the rest",
    OtherWay.OLD_PARTS_RETURNED: "You leave the old parts with us and get their deposits back",
    OtherWay.WIRES_TAKEN_OUT: "Unused wires are taken out instead of staying in their looms, "
    "insulated and dead",
    OtherWay.WIRES_LEFT: "Unused wires stay in their looms, insulated and dead, so that all can be "
    "put back",
    OtherWay.WORN_RENEWED: "What is worn and cannot be saved is renewed; all of it would be: "
    "{renewed}",
}

_REMARKS = {
    Said.WIRED_AS_PROFILE: "The vehicle is wired as in “{title}”; where it is not, the price may "
    "change.",
    Said.AS_FOUND: "As found: {note}",
    Said.ALTERED: "Altered before; what the diagnostic block brings to light may change the price.",
    Said.LOOKED_AFTER: "Found {note}: {where}. Care for it is in this price, a new one is not.",
    Said.WORN_GOES: "Found {note}: {where}. It is taken out or renewed in this price.",
    Said.CAPPED: "These wires stay in their looms, dead and capped at both ends: {where}.",
    Said.NOT_COMPUTED: "The electricity of “{title}” could not be computed: {note}",
    Said.CONDITION: "The wiring was computed and checked; that is no certificate. Condition of "
    "what stays in the vehicle is taken to be sound until it has been looked at.",
}
"""A finding that stands is told among those that are left."""


def line_words(line: PricedLine | CustomerLine, units: str) -> str:
    """What a line charges for."""
    if line.article is not None:
        return words_of(line.article, units)
    if line.charge is Charge.RESERVE:
        return _RESERVE
    own = ", ".join(line.names)
    if line.charge in _OF_PART:
        return f"{_OF_PART[line.charge]}: {own}"
    return f"{own}, {_BESIDE_RATE[line.charge]}" if line.charge in _BESIDE_RATE else own


def labour_words(labour: LabourSum) -> str:
    """What a customer sees being done."""
    return ", ".join(labour.names) or _STRETCHES[labour.stretch]


def choice_words(choice: Choice) -> str:
    """Another way in a sentence."""
    return _OTHER_WAYS[choice.way].format(
        visits=len(choice.stages) + 1,
        stages=", then ".join(choice.stages),
        renewed=", ".join(name.replace("-", " ") for name in choice.renewed),
    )


def remark_words(remark: Remark) -> str:
    """A remark in a sentence."""
    if remark.need is not None:
        return f"{needs_heading()}: {need_words(remark.need)}."
    where = ", ".join(map(_place_words, remark.where))
    return _REMARKS[remark.said].format(title=remark.title, note=remark.note, where=where)


def _place_words(where: str | Numbered) -> str:
    """A wire with its number, or a part, as people say it."""
    if isinstance(where, Numbered):
        return numbered_name(where.number, where.name.replace("-", " "))
    return where.replace("-", " ")


def open_words(count: int) -> str:
    """`2 items without a price`; "" for none."""
    return f"{counted(count, 'item')} without a price" if count else ""


def open_item_words(article: Article, quantity: Decimal, units: str) -> str:
    """Something that has no price yet, with how much of it is needed."""
    amount = amount_words(quantity, article.unit, units)
    return f"{words_of(article, units)}, {amount}".replace(NBSP, " ")
