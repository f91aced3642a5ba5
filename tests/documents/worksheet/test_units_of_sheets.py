"""Every ready pair's sheet in one system of units: nothing of the other one stands in it."""

import re
from functools import lru_cache

import attrs
import pytest
from odd_numbers import odd_numbers
from pair_facts import planned
from us_words import metric_figures

from upgrade_planner.documents.words.findings import finding_words
from upgrade_planner.documents.words.wording import NBSP
from upgrade_planner.documents.worksheet.sheet import sheet_view
from upgrade_planner.documents.worksheet.title_block import SheetOptions
from upgrade_planner.library.pairs import ready_pairs

PAIRS = [(pair.before, pair.after) for pair in ready_pairs()]

CITED = {"source", "program", "identity"}
"""Fields of a view that hold what somebody else wrote, or names of ours."""

US_FIGURE = re.compile(r"\d\s?(?:ft|cmil|°F|lb|lbf·ft|miles)\b|\d\.\d\s?in\b")
"""A number with a US unit; studs keep the names of their threads, as `1/4 in`."""

BARE_GAUGE = re.compile(r"\d\s(?:SAE|AWG)(?! \(about)|\d–\d+ gauge")
"""A gauge that does not say its area as well."""


def texts(value):
    """All texts of a view, but what is cited."""
    if isinstance(value, str):
        yield value.replace(NBSP, " ")
    elif isinstance(value, tuple):
        for one in value:
            yield from texts(one)
    elif attrs.has(type(value)):
        for name, one in attrs.asdict(value, recurse=False).items():
            if name not in CITED:
                yield from texts(one)


@lru_cache(1)
def quoted_in(plan):
    """What a sheet quotes: words of the profiles, and sources as they were published."""
    written = {finding_words(one, u).source for one in plan.findings for u in ("us", "metric")}
    for side in (plan.comparison.before, plan.comparison.after):
        written |= {side.summary, side.as_found_note, *side.system_titles.values()}
        written |= {text for part in side.components for text in (part.name, part.note)}
        written |= {wire.note for wire in side.wires}
    by_length = sorted(written - {""}, key=len, reverse=True)
    return re.compile("|".join(re.escape(text.replace(NBSP, " ")) for text in by_length))


def own_words(plan, units):
    """What a sheet says, each text once, without what it quotes."""
    told = texts(sheet_view(plan, SheetOptions(date="2026-01-02", units=units)))
    for text in dict.fromkeys(told):
        yield quoted_in(plan).sub("", text)


@pytest.mark.parametrize("pair", PAIRS, ids="-".join)
def test_a_sheet_in_one_system_of_units_holds_no_figure_of_the_other_and_no_odd_one(pair):
    plan = planned(*pair)  # both systems here: what a plan has computed serves twice
    us = list(own_words(plan, "us"))
    assert [text for text in us if metric_figures(text)] == []
    assert [odd for text in us for odd in odd_numbers(text)] == []
    told = own_words(plan, "metric")
    assert [t for t in told if US_FIGURE.search(t) or BARE_GAUGE.search(t)] == []


def test_a_sheet_in_both_names_sizes_as_the_trade_of_the_vehicle_does():
    told = " ".join(own_words(planned("van_original_resistance", "van_upgraded"), "both"))
    assert "mm (" not in told
    assert re.search(r"\d SAE\b(?! \(about)", told)
