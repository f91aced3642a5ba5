"""The recipe of the contributor guide for a new article, followed to the letter."""

import tomllib

import pytest
from pair_facts import planned
from recipes import blocks_of_recipe

from upgrade_planner.configuration.tables.list_table import table_of
from upgrade_planner.documents.words import texts
from upgrade_planner.documents.words.articles import words_of
from upgrade_planner.kit import articles, ends, materials
from upgrade_planner.kit.prices import price_columns
from upgrade_planner.kit.prices.list_style import ListStyle
from upgrade_planner.kit.prices.price_lines import price_list

ENTRY, CONSUMED, PRICE = blocks_of_recipe("An article")
KEPT = (
    articles.sorts,
    articles.shelves,
    price_columns.trait_columns,
    texts._texts,
    texts.texts_of,
)


@pytest.fixture(autouse=True)
def article_of_recipe(monkeypatch):
    """The table of articles with that of the recipe."""
    table = {**articles._table(), **tomllib.loads(ENTRY)}
    monkeypatch.setattr(articles, "_table", lambda: table)
    for kept in KEPT:
        kept.cache_clear()
    yield
    monkeypatch.undo()
    for kept in KEPT:
        kept.cache_clear()


@pytest.fixture
def cover(monkeypatch):
    """What the plan of a pair consumes of it, where the recipe says."""
    inside = dict(vars(ends))
    body = "".join(f"    {line}\n" for line in CONSUMED.splitlines())
    exec(f"def taken(connection, wires):\n{body}", inside)
    made = ends.made_fitting

    def with_cover(fitting, connection, space, size_system):
        yield from made(fitting, connection, space, size_system)
        yield from inside["taken"](connection, [wire.id for wire in fitting.wires])

    monkeypatch.setattr(materials, "made_fitting", with_cover)
    taken = materials.consumption.__wrapped__(planned("van_as_found", "van_upgraded"))
    total = materials.totals(one for several in taken.values() for one in several)
    (found,) = (one for one in total if one.article.sort == "post cover")
    return found


def test_plan_takes_it_and_names_it(cover):
    assert cover.quantity == 1
    assert cover.article.shelf == "terminals"
    assert words_of(cover.article) == "Cover over a battery post, positive"


def test_its_line_in_the_price_list_fits(cover):
    prices = price_list(
        table_of("list.csv", PRICE.encode()), ListStyle(currency="GBP"), is_strict=True
    )
    assert [line.number for line in prices.fitting(cover.article)] == ["BC-120"]


def test_its_name_is_asked_for_in_every_language():
    with pytest.raises(ValueError, match=r"sorts\.post cover"):
        texts.texts_of("de")
