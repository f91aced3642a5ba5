"""What a US reader gets to order and to pay by: no metric figure on a page of kit or quotation."""

import datetime

import pytest
from attrs import asdict
from every_case import every_case
from pair_facts import planned
from us_words import metric_figures

from upgrade_planner.documents.kit.kit_page import kit_view
from upgrade_planner.documents.quote.offer_page import quote_view
from upgrade_planner.documents.quote.quote_words import gains_told
from upgrade_planner.documents.words.speech import speech_of
from upgrade_planner.kit.materials import consumption
from upgrade_planner.kit.packing import PlannedJob, packed
from upgrade_planner.kit.prices.shop_files import load_prices, shipped_shop
from upgrade_planner.library.pairs import ready_pairs
from upgrade_planner.quote.gains import FIGURES, Gain
from upgrade_planner.quote.made import Made
from upgrade_planner.quote.offer import Shop, for_customer, offer
from upgrade_planner.quote.remarks import findings_left
from upgrade_planner.quote.supplies import supplies_of

DAY = datetime.date(2026, 3, 2)
PRICES = load_prices(shipped_shop())

US_SPEECH = speech_of("en-US", units="us")


def texts_in(value):
    """Every text in a view, however deep."""
    if isinstance(value, str):
        yield value
    elif isinstance(value, dict):
        yield from (text for item in value.values() for text in texts_in(item))
    elif isinstance(value, list | tuple):
        yield from (text for item in value for text in texts_in(item))


def metric_texts(view):
    return sorted({text for text in texts_in(asdict(view)) if metric_figures(text)})


@pytest.mark.parametrize("pair", ready_pairs(), ids=lambda pair: f"{pair.before}-{pair.after}")
def test_kit_and_quotation_name_no_metric_figure(pair):
    plan = planned(pair.before, pair.after)
    job = PlannedJob(plans=(plan,), used=(consumption(plan),), times=1)
    kit = packed([job], PRICES, takes_alternatives=True, is_demo=True)
    assert metric_texts(kit_view(kit, date="", units="us")) == []
    bought = supplies_of(plan, PRICES)
    own = offer([plan], bought, Shop(), given=DAY)
    made = Made(
        letter="",
        own_number="",
        plan=plan,
        supplies=bought,
        work=(),
        own=own,
        customer=for_customer(own),
        gains=(),
        left=findings_left([plan]),
        choices=(),
    )
    assert metric_texts(quote_view([made], US_SPEECH)) == []


@every_case("subject", FIGURES)
def test_what_an_owner_gains_is_told_in_us_units(subject):
    (told,) = gains_told([Gain(subject=subject, before=10.0, after=90.0)], US_SPEECH)
    assert metric_texts(told) == []
