"""The command `kit`: what it writes and says, and what it refuses."""

from decimal import Decimal

import pypdf
import pytest
from as_data import data_of
from every_case import every_case
from pdf_words import page_text

PAIR = ("tractor_original", "tractor_upgraded")
SMALL = ("tractor_upgraded", "tractor_isolator")
SHOP = '[prices]\nfile = "mine.csv"\ndecimal = "comma"\ncurrency = "EUR"\n'
LIST = "number;article;sold_by;contains;price;stock\nT1;tie;pack;100;4,50;2\n"


def kit(run, folder, *options, target="kit.json", pair=PAIR):
    return run("kit", *pair, "-o", target, "--date", "2026-03-01", *options, cwd=folder)


def lines(path):
    return data_of(path.read_text(), parse_float=Decimal)


@pytest.mark.usefixtures("engine")
@pytest.mark.parametrize("suffix", ["pdf", "html", "csv", "xlsx", "json"])
def test_every_format_is_written_and_its_bytes_repeat(run, tmp_path, suffix):
    done = [kit(run, tmp_path, pair=SMALL, target=f"{name}.{suffix}") for name in "ab"]
    assert [one.returncode for one in done] == [0, 0], done[0].stderr
    assert (tmp_path / f"a.{suffix}").read_bytes() == (tmp_path / f"b.{suffix}").read_bytes()


def test_one_line_says_what_was_made(run, tmp_path):
    done = kit(run, tmp_path)
    assert done.stdout.count("\n") == 1
    assert done.stdout.startswith("kit.json: ")
    for word in (
        " lines, ",
        " pieces, ",
        " bags, ",
        " open lines, total £",
        "invented demo prices",
    ):
        assert word in done.stdout


def test_three_pairs_in_one_order(run, tmp_path):
    done = kit(
        run,
        tmp_path,
        "--jobs",
        "2",
        "--and",
        "van_as_found:van_upgraded",
        "--and",
        "van_original_ballast:van_upgraded:1",
    )
    assert done.returncode == 0, done.stderr
    assert [job["vehicles"] for job in lines(tmp_path / "kit.json")["jobs"]] == [2, 2, 1]


def test_twice_the_vehicles_need_twice_as_much(run, tmp_path):
    kit(run, tmp_path)
    kit(run, tmp_path, "--jobs", "2", target="two.json")
    one, two = (
        {line["articles"][0]["words"]: line["needed"] for line in lines(path)["lines"]}
        for path in (tmp_path / "kit.json", tmp_path / "two.json")
    )
    assert two == {name: 2 * quantity for name, quantity in one.items()}


def test_stages_have_bags_of_their_own(run, tmp_path):
    stages = ("van_original_resistance", "van_original_ballast", "van_upgraded")
    done = kit(run, tmp_path, pair=stages)
    assert done.returncode == 0, done.stderr
    data = lines(tmp_path / "kit.json")
    assert len(data["jobs"][0]["sheets"]) == 2
    assert {bag["stage"] for bag in data["bags"]} == {1, 2}


def test_a_shop_of_ones_own_with_most_lines_open(run, tmp_path):
    (tmp_path / "shop.toml").write_text(SHOP)
    (tmp_path / "mine.csv").write_text(LIST)
    done = kit(run, tmp_path, "--prices", "mine.csv")
    assert done.returncode == 0, done.stderr
    assert "total 4.50 EUR without the open lines" in done.stdout
    assert "invented" not in done.stdout
    assert lines(tmp_path / "kit.json")["prices"]["invented"] is False


def test_labels_are_written_with_the_list(run, tmp_path):
    done = kit(run, tmp_path, "--labels", "labels.pdf", "--paper", "Letter", pair=SMALL)
    assert done.returncode == 0, done.stderr
    page = pypdf.PdfReader(tmp_path / "labels.pdf").pages[0]
    assert (float(page.mediabox.width), float(page.mediabox.height)) == (612, 792)
    assert "isolator-cable" in page_text(page)


def test_nothing_to_do_packs_nothing(run, tmp_path):
    done = kit(run, tmp_path, pair=("tractor_original", "tractor_original"), target="kit.html")
    assert done.returncode == 0, done.stderr
    assert "Nothing has to be packed" in (tmp_path / "kit.html").read_text()


def test_a_danger_of_the_target_is_told_and_stands_on_the_first_page(run, tmp_path):
    done = kit(run, tmp_path, pair=("van_upgraded", "van_as_found"), target="kit.html")
    assert done.returncode == 1
    assert "A danger finding stands in job 1" in done.stderr
    assert "Job 1: a danger finding stands" in (tmp_path / "kit.html").read_text()


BAD = [
    (("--jobs", "0"), "--jobs: found '0'; expected a whole number of vehicles, 1 to 999"),
    (("--jobs", "2.5"), "--jobs: found '2.5'"),
    (("--jobs", "many"), "--jobs: found 'many'"),
    (("--spare", "-1"), "--spare: found '-1'; expected percent, 0 to 100"),
    (("--spare", "nan"), "--spare: found 'nan'"),
    (("--spare", "101"), "--spare: found '101'"),
    (("--and", "van_as_found"), "--and: found 'van_as_found'; expected BEFORE:AFTER"),
    (("--and", "van_as_found:2"), "--and: found 'van_as_found:2'; expected BEFORE:AFTER"),
    (("--and", "a::b"), "--and: found 'a::b'"),
    (("--and", "van_as_found:van_upgraded:0"), "found '0'; expected a whole number of vehicles"),
    (("--and", "van_as_found:van_upgraded:-2"), "found '-2'; expected a whole number of vehicles"),
    (("--and", "no_such:van_upgraded"), "no_such"),
    (("--and", "van_as_found:tractor_upgraded"), "vehicle"),
    (("--prices", "nowhere"), "nowhere"),
    (("--prices", "mine.csv"), "shop.toml"),
    (("--labels", "labels.png"), "labels.png: found the suffix '.png'"),
    (("--labels", "nowhere/labels.pdf"), "nowhere"),
    (("--date", "tomorrow"), "--date: found 'tomorrow'"),
]


@every_case(("options", "told"), BAD)
def test_bad_input_is_told_and_nothing_is_written(run, tmp_path, options, told):
    done = kit(run, tmp_path, *options)
    assert done.returncode == 2
    assert told in done.stderr
    assert "Traceback" not in done.stderr
    assert list(tmp_path.iterdir()) == []


@every_case("target", ["kit.doc", "kit", "nowhere/kit.pdf"])
def test_a_target_that_cannot_be_is_told(run, tmp_path, target):
    done = kit(run, tmp_path, target=target)
    assert done.returncode == 2
    assert target in done.stderr
    assert list(tmp_path.iterdir()) == []


def test_list_and_labels_cannot_be_one_file(run, tmp_path):
    done = kit(run, tmp_path, "--labels", "kit.pdf", target="kit.pdf")
    assert (done.returncode, list(tmp_path.iterdir())) == (2, [])
    assert "expected two" in done.stderr


def test_a_faulty_price_list_is_told_with_line_and_column(run, tmp_path):
    (tmp_path / "shop.toml").write_text(SHOP)
    (tmp_path / "mine.csv").write_text(LIST.replace("4,50", "dear"))
    done = kit(run, tmp_path, "--prices", ".", "--strict")
    assert done.returncode == 2
    assert "mine.csv:2:5" in done.stderr
    assert not (tmp_path / "kit.json").exists()
    done = kit(run, tmp_path, "--prices", ".")
    assert done.returncode == 0
    assert "mine.csv:2:5" in done.stderr
    assert "open line" in done.stderr


def test_rows_of_other_goods_are_counted_on_screen_and_paper(run, tmp_path):
    (tmp_path / "shop.toml").write_text(SHOP)
    (tmp_path / "mine.csv").write_text(f"{LIST}M1;mug;each;;1;1\nM2;cap;each;;1;1\n")
    done = kit(run, tmp_path, "--prices", ".", "--strict", target="kit.html")
    assert "mine.csv: 2 rows of other goods skipped" in done.stderr
    assert "2\N{NO-BREAK SPACE}rows of other goods skipped" in (tmp_path / "kit.html").read_text()


@every_case("command", ["kit", "quote"])
def test_a_list_in_another_currency_than_the_rates_is_refused(run, tmp_path, command):
    assert run("shop", "-o", "mine", cwd=tmp_path).returncode == 0
    prices = tmp_path / "mine" / "prices.csv"
    for file in (tmp_path / "mine" / "shop.toml", prices):
        file.write_text(file.read_text().replace("GBP", "EUR"))
    done = run(command, *PAIR, "-o", "a.json", "--shop", "mine", cwd=tmp_path)
    assert (done.returncode, (tmp_path / "a.json").exists()) == (2, False)
    assert "found prices in EUR; expected GBP" in done.stderr


def test_the_pick_list_walks_along_the_places_in_their_natural_order(run, tmp_path):
    (tmp_path / "shop.toml").write_text(SHOP)
    text = "number;article;sold_by;contains;price;stock;shelf_place\n"
    text += "T1;tie;pack;100;4,50;2;A 10\nC1;compound;each;50;3;4;A 2\n"
    (tmp_path / "mine.csv").write_text(text)
    assert kit(run, tmp_path, "--prices", ".").returncode == 0
    numbers = [line["number"] for line in lines(tmp_path / "kit.json")["lines"]]
    assert [number for number in numbers if number] == ["C1", "T1"]
    assert not any(numbers[2:])


def test_each_line_of_the_pick_list_says_what_it_costs_if_asked(run, tmp_path):
    texts = []
    for options in ((), ("--line-prices",)):
        assert kit(run, tmp_path, *options, target="a.html").returncode == 0
        texts.append((tmp_path / "a.html").read_text())
    assert ">Price</th>" not in texts[0]
    assert ">Price</th>" in texts[1]
    kit(run, tmp_path)
    amounts = [line["amount"] for line in lines(tmp_path / "kit.json")["lines"]]
    assert all(f"£{amount}" in texts[1] for amount in amounts if amount)


def test_the_nearest_name_in_the_list_is_told_at_an_open_line(run, tmp_path):
    (tmp_path / "shop.toml").write_text(SHOP)
    assert kit(run, tmp_path).returncode == 0
    part = next(
        a
        for line in lines(tmp_path / "kit.json")["lines"]
        for a in line["articles"]
        if a["sort"] == "part"
    )
    traits = part["traits"]
    text = "number;article;kind;rating;name;sold_by;contains;price;stock\n"
    text += f"P9;part;{traits['kind']};{traits['rating']};{traits['name']}x;each;;3;4\n"
    (tmp_path / "mine.csv").write_text(text)
    kit(run, tmp_path, "--prices", ".")
    told = [line["why"] for line in lines(tmp_path / "kit.json")["lines"]]
    assert any("nearest is P9" in why for why in told)
