"""What a list has not, as rows to fill: filled and copied in, the list has it."""

import csv
import io

import openpyxl
import pytest
from kit_sample import demo_kit, poor_kit

from upgrade_planner.configuration.tables.list_table import table_of
from upgrade_planner.documents.kit.needed_list import needed_count, needed_csv, needed_rows
from upgrade_planner.kit.orders import order
from upgrade_planner.kit.prices.list_style import ListStyle
from upgrade_planner.kit.prices.price_lines import price_list

GERMAN = ListStyle(
    currency="EUR",
    mark=",",
    columns={"art.-nr.": "number", "artikel": "article", "vk_je": "sold_by", "preis": "price"},
    own={
        "number": "Art.-Nr.",
        "article": "Artikel",
        "sold_by": "VK je",
        "price": "Preis",
        "cable": "Leitung",
        "ring terminal": "Ring",
        "each": "Stück",
        "metre": "Meter",
    },
    words={"leitung": "cable", "ring": "ring terminal", "stück": "each", "meter": "metre"},
)


def filled(rows, style):
    """Each row with a number, a price and, where a pack is sold, what it holds."""
    titles, *body = rows
    where = {style.column(str(title)): n for n, title in enumerate(titles)}
    made = [list(map(str, titles))]
    for count, row in enumerate(body):
        cells = ["" if cell is None else str(cell) for cell in row]
        cells[where["number"]], cells[where["price"]] = f"N{count}", f"1{style.mark}5"
        cells[where["contains"]] = "50" if cells[where["sold_by"]] == "pack" else ""
        made.append(cells)
    return made


@pytest.mark.parametrize("style", [ListStyle(currency="EUR", mark="."), GERMAN])
@pytest.mark.parametrize("kit", [demo_kit, poor_kit])
def test_a_filled_list_has_everything_that_was_needed(kit, style):
    kit = kit()
    text = io.StringIO()
    writer = csv.writer(text, delimiter=";" if style.mark == "," else ",")
    writer.writerows(filled(tuple(needed_rows(kit, style)), style))
    prices = price_list(table_of("new.csv", text.getvalue().encode()), style, is_strict=True)
    assert prices.foreign_rows == 0
    again = order([job.as_ordered() for job in kit.jobs], prices)
    wanted = {
        article
        for line in kit.order.lines
        if kit.is_demo or line.line is None
        for article in line.articles
    }
    assert wanted
    assert not wanted & {article for line in again.open_lines for article in line.articles}


def test_what_is_listed_already_is_left_out():
    kit = poor_kit()
    numbers = {line.articles[0].sort for line in kit.order.lines if line.line is not None}
    assert "tie" in numbers
    rows = tuple(needed_rows(kit, ListStyle(currency="EUR")))
    assert "tie" not in {row[rows[0].index("article")] for row in rows[1:]}
    assert len(rows) == needed_count(kit) + 1


def test_it_speaks_as_the_shops_own_list():
    text = needed_csv(poor_kit(), GERMAN)
    titles, *_ = csv.reader(io.StringIO(text), delimiter=";")
    assert {"Art.-Nr.", "Artikel", "VK je", "Preis", "needed"} <= set(titles)
    assert ";Leitung;" in text
    assert ";cable;" not in text
    assert "7,5 A" in text or "2,5 mm²" in text or "0,5–1,5 mm²" in text


class TestCommand:
    PAIR = ("tractor_original", "tractor_upgraded")

    def kit(self, run, folder, *options):
        return run("kit", *self.PAIR, "-o", "a.json", *options, cwd=folder)

    @pytest.mark.parametrize("suffix", ["csv", "xlsx"])
    def test_writes_the_file_and_says_how_many_rows(self, run, tmp_path, suffix):
        done = self.kit(run, tmp_path, "--needed", f"new.{suffix}")
        assert done.returncode == 0, done.stderr
        assert f"new.{suffix}: " in done.stdout
        assert "rows to fill" in done.stdout
        if suffix == "xlsx":
            page = openpyxl.load_workbook(tmp_path / "new.xlsx").active
            assert page["A1"].value == "number"

    def test_a_file_that_somebody_may_have_filled_is_not_lost(self, run, tmp_path):
        (tmp_path / "new.csv").write_text("mine")
        done = self.kit(run, tmp_path, "--needed", "new.csv")
        assert (done.returncode, (tmp_path / "new.csv").read_text()) == (2, "mine")
        assert not (tmp_path / "a.json").exists()

    @pytest.mark.parametrize("name", ["new.pdf", "a.json"])
    def test_other_names_are_refused(self, run, tmp_path, name):
        assert self.kit(run, tmp_path, "--needed", name).returncode == 2
