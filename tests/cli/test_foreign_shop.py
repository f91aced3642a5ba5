"""A counter in another country with its own list of more than 300 articles."""

import csv
import io
from decimal import Decimal
from functools import cache

import openpyxl
import pytest
from as_data import data_of
from german_list import OTHER_GOODS, german_list, german_shop
from pair_facts import planned

from upgrade_planner.kit.materials import consumption
from upgrade_planner.kit.packing import PlannedJob, packed
from upgrade_planner.kit.prices.shop_files import load_prices, shipped_shop

PAIR = ("van_original_resistance", "van_upgraded")
SMALL = ("van_original_resistance", "van_original_ballast")


def data(path):
    return data_of(path.read_text(encoding="utf-8"), parse_float=Decimal)


@pytest.fixture
def shop(tmp_path):
    german_shop(tmp_path / "laden")
    return tmp_path


def run_kit(run, folder, *options, target="kit.json", pair=PAIR):
    return run("kit", *pair, "--date", "2026-03-01", "-o", target, *options, cwd=folder)


def test_the_list_is_read_without_a_warning_and_says_the_same(shop):
    ours, theirs = load_prices(shipped_shop()), load_prices(shop / "laden", is_strict=True)
    assert len(theirs.lines) > 300
    assert theirs.foreign_rows == len(OTHER_GOODS)
    for one, other in zip(ours.lines, theirs.lines, strict=True):
        assert (one.number, one.price, one.in_stock, one.contains, one.minimum, one.traits) == (
            other.number,
            other.price,
            other.in_stock,
            other.contains,
            other.minimum,
            other.traits,
        )


def test_the_kit_costs_the_same_in_every_format(run, shop):
    assert run_kit(run, shop, target="ours.json").returncode == 0
    done = run_kit(run, shop, "--shop", "laden", "--strict")
    assert done.returncode == 0, done.stderr
    assert f"{len(OTHER_GOODS)} rows of other goods skipped" in done.stderr
    ours, theirs = data(shop / "ours.json"), data(shop / "kit.json")
    assert ours["total"]["amount"] == theirs["total"]["amount"]
    assert [one["number"] for one in ours["lines"]] == [one["number"] for one in theirs["lines"]]
    assert run_kit(run, shop, "--shop", "laden", target="kit.xlsx").returncode == 0
    page = openpyxl.load_workbook(shop / "kit.xlsx")["Order"]
    titles = [cell.value for cell in page[1]]
    amounts = [row[titles.index("amount")].value for row in page.iter_rows(min_row=2)]
    assert Decimal(theirs["total"]["amount"]) in [
        Decimal(str(amount)) for amount in amounts if amount is not None
    ]
    assert run_kit(run, shop, "--shop", "laden", target="kit.html").returncode == 0
    html = (shop / "kit.html").read_text(encoding="utf-8")
    assert "3\N{NO-BREAK SPACE}days to get it" in html


def test_only_the_own_columns_that_are_chosen_are_printed(run, shop):
    run_kit(run, shop, "--shop", "laden", target="kit.html")
    html = (shop / "kit.html").read_text(encoding="utf-8")
    assert html.count("siehe Lade 3") <= 3
    settings = shop / "laden" / "shop.toml"
    settings.write_text(settings.read_text("utf-8").replace('["Bemerkung"]', "[]"), "utf-8")
    run_kit(run, shop, "--shop", "laden", target="kit.html")
    assert "siehe Lade" not in (shop / "kit.html").read_text(encoding="utf-8")


def test_the_quotation_takes_the_same_list(run, shop):
    done = run("quote", *PAIR, "-o", "a.json", "--shop", "laden", cwd=shop)
    assert done.returncode == 0, done.stderr
    assert data(shop / "a.json")["currency"] == "EUR"


@cache
def needed():
    """The titles of the list, and those of its rows that the kit of the small job takes."""
    plan = planned(*SMALL)
    job = PlannedJob(plans=(plan,), used=(consumption(plan),), times=1)
    lines = [one.line for one in packed([job], load_prices(shipped_shop())).order.lines]
    taken = {line.number for line in lines if line}
    titles, *rows = csv.reader(io.StringIO(german_list().decode("cp1252")), delimiter=";")
    return titles, [row for row in rows if row[titles.index("Art.-Nr.")] in taken]


@pytest.mark.parametrize(
    "spoilt",
    [
        "=cmd|'/c calc'!A0",
        "@SUM(A1)",
        "+1+1|x",
        "\t=1+1",
        "a\x07b",
        "\u202egnp.exe",
        "x" * 5000,
    ],
)
def test_no_cell_of_the_new_columns_becomes_a_formula_or_a_control_character(run, shop, spoilt):
    path = shop / "laden" / "Preisliste.csv"
    titles, rows = needed()
    assert len(rows) > 10
    for column in ("Regal", "Lieferzeit", "Bemerkung", "Preis je", "Lief.-Nr."):
        path.write_bytes(_spoilt(titles, rows, column, spoilt).encode("utf-8"))
        done = run_kit(run, shop, "--shop", "laden", target="kit.csv", pair=SMALL)
        assert done.returncode == 0, (column, done.stderr)
        assert "\x07" not in done.stderr, column
        for cell in _cells(shop / "kit.csv"):
            assert cell[:1] not in tuple("=+@\t") or cell[:1] == "'", column
            assert cell.isprintable(), column


def _spoilt(titles, rows, column, spoilt):
    """The list with another text in all cells of a column."""
    if column not in titles:
        titles, rows = [*titles, column], [[*row, ""] for row in rows]
    at = titles.index(column)
    made = io.StringIO()
    csv.writer(made, delimiter=";").writerows(
        [titles, *([*row[:at], spoilt, *row[at + 1 :]] for row in rows)]
    )
    return made.getvalue()


def _cells(path):
    text = path.read_text(encoding="utf-8-sig")
    return [cell for row in csv.reader(io.StringIO(text, newline="")) for cell in row]
