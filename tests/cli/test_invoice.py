"""From an offer to its invoice: numbers that never repeat, sums that never change."""

import csv
import io
import json
import re
from decimal import Decimal

import pytest
from as_data import data_of
from quote_sample import pdf_text, shop_in

VAN = ("van_original_ballast", "van_upgraded")
SMALL = ("van_upgraded", "van_voltmeter")
SALOON = ("saloon_original", "saloon_trigger_positive", "--or", "saloon_negative_alternator")
DAY = ("--date", "2026-03-02")
OWN = """
[configuration]
title = "Ours"
summary = "Our van."
based_on = "van_original_ballast"
"""
BILLED = ("--date", "2026-03-20")


@pytest.fixture
def shop(tmp_path):
    """A German shop with euros, and one job."""
    folder = shop_in(tmp_path, "EUR", ('language = "en"', 'language = "de"'))
    return folder.rename(tmp_path / "shop")


@pytest.fixture
def do(run, tmp_path, shop):
    """A command in the folder of the shop; its end must be as told."""

    def done(command, *arguments, code=0):
        made = run(command, *arguments, cwd=tmp_path)
        assert made.returncode == code, made.stderr
        return made

    return done


def offered(do, *more, pair=SMALL, number="7"):
    """A numbered offer of the shop; where it is kept."""
    wanted = ("--shop", "shop", "--number", number, "--customer", "B. Person", *DAY)
    do("quote", *pair, "-o", "q.json", *wanted, *more)
    return f"shop/offers/{number}.json"


def ordered(do, kept, *more):
    do("accept", kept, "--date", "2026-03-05", *more)
    return kept


def billed(do, kept, *more, number="R-1", code=0, target="i.json"):
    wanted = ("--number", number, "--shop", "shop", "-o", target, *BILLED)
    return do("invoice", kept, *wanted, *more, code=code)


class TestNumbers:
    def test_a_draft_is_kept_nowhere(self, do, shop):
        do("quote", *SMALL, "-o", "q.json", "--shop", "shop", *DAY)
        assert not (shop / "offers").exists()

    def test_another_offer_never_gets_a_number_twice(self, do, tmp_path, shop):
        kept = tmp_path / offered(do)
        before = kept.read_bytes()
        offered(do)  # the same again
        wanted = ("-o", "q.json", "--shop", "shop", "--number", "7", "--customer", "C. Other", *DAY)
        made = do("quote", *SMALL, *wanted, code=2)
        assert "--number 7: found an offer of 2026-03-02 with it" in made.stderr
        assert "a new --revision" in made.stderr
        assert kept.read_bytes() == before
        do("quote", *SMALL, *wanted, "--revision", "B")
        assert {path.name for path in (shop / "offers").iterdir()} == {"7.json", "7_B.json"}

    def test_what_became_of_it_survives_writing_it_again(self, do, tmp_path):
        kept = ordered(do, offered(do))
        offered(do)
        assert data_of((tmp_path / kept).read_text("utf-8"))["accepted"] is not None

    def test_no_number_leads_out_of_the_folder(self, do, tmp_path, shop):
        number = "../../x"
        do("quote", *SMALL, "-o", "q.json", "--shop", "shop", "--number", number, *DAY)
        assert [path.name for path in (shop / "offers").iterdir()] == ["_._.._x.json"]

    def test_an_invoice_number_is_given_once(self, do):
        billed(do, ordered(do, offered(do)))
        other = ordered(do, offered(do, number="8"))
        made = billed(do, other, code=2)
        assert "--number R-1: found it at shop/offers/7.json" in made.stderr
        billed(do, other, number="R-2")

    def test_an_offer_has_one_invoice(self, do, tmp_path):
        kept = ordered(do, offered(do))
        billed(do, kept)
        first = (tmp_path / "i.json").read_bytes()
        billed(do, kept)
        assert (tmp_path / "i.json").read_bytes() == first
        made = billed(do, kept, number="R-2", code=2)
        assert "found invoice R-1 of 2026-03-20" in made.stderr


class TestOrder:
    def test_a_draft_cannot_be_ordered(self, do):
        do("quote", *SMALL, "-o", "q.json", *DAY)
        assert "found a draft" in do("accept", "q.json", code=2).stderr

    def test_one_of_several_must_be_named(self, do):
        kept = offered(do, pair=SALOON)
        assert "expected one of A, B" in do("accept", kept, code=2).stderr
        assert "7 B ordered" in do("accept", kept, "--offer", "b", *DAY).stdout
        made = do("accept", kept, "--offer", "A", *DAY, code=2)
        assert "found it accepted on 2026-03-02" in made.stderr

    def test_a_danger_cannot_be_ordered(self, do, tmp_path):
        wanted = ("--number", "9", "--customer", "B. Person", "-o", "q.json")
        do("quote", "pickup_upgraded", "pickup_as_found", *wanted, code=1)
        assert "a danger that would stay" in do("accept", "q.json", code=2).stderr

    def test_late_orders_are_told(self, do):
        made = do("accept", offered(do), "--date", "2026-05-01")
        assert "no longer valid" in made.stderr

    def test_anything_else_is_no_offer(self, do, tmp_path):
        for text in ("", "{}", "[1]", "null", '{"format": 3}', "\x00", "[" * 9999):
            (tmp_path / "x.json").write_text(text, encoding="utf-8")
            made = do("accept", "x.json", code=2)
            assert "Traceback" not in made.stderr, text
            assert "x.json" in made.stderr, text


class TestInvoice:
    def test_nobody_has_ordered(self, do):
        assert "nobody has accepted" in billed(do, offered(do), code=2).stderr

    def test_has_the_sums_of_the_offer_and_its_words(self, do, tmp_path):
        kept = ordered(do, offered(do, pair=SALOON), "--offer", "B")
        offer = data_of((tmp_path / kept).read_text("utf-8"))["offers"][1]
        billed(do, kept, "--paid", "100.50", "--delivered", "2026-03-18")
        made = data_of((tmp_path / "i.json").read_text("utf-8"), ("invoice", 1))
        for key in ("price", "tax", "net", "to_pay", "booked", "check_code"):
            assert made[key] == offer[key]
        assert Decimal(made["paid"]) + Decimal(made["due"]) == Decimal(made["to_pay"])
        assert (made["offer"], made["delivered"]) == ("7 B", "2026-03-18")
        assert made["customer"] == ["B. Person"]

    def test_pdf_reads_back_in_german(self, do, tmp_path):
        kept = ordered(do, offered(do, pair=VAN))
        billed(do, kept, "--paid", "200.00", target="i.pdf")
        text = " ".join(pdf_text(tmp_path / "i.pdf").split())
        to_pay = Decimal(data_of((tmp_path / kept).read_text("utf-8"))["offers"][0]["to_pay"])
        for words in (
            "Rechnung",
            "R-1",
            "20. März 2026",
            "Bereits bezahlt",
            "−200,00 €",
            f"{to_pay - 200:,.2f} €".translate({ord(","): ".", ord("."): ","}),
            "innerhalb von 14 Tagen, bis zum 3. April 2026",
            "Für die Arbeit, die Sie am 5. März 2026 bestellt haben",
        ):
            assert words in text, words

    def test_an_offer_changed_by_hand_is_refused(self, do, tmp_path):
        kept = ordered(do, offered(do))
        path = tmp_path / kept
        written = path.read_text("utf-8")
        for old, new in (
            ('"to_pay": "', '"to_pay": "1'),
            ('"amount": "', '"amount": "1'),
            ('"kind": "estimate"', '"kind": "fixed price"'),
            ('"name": "', '"name": "Another '),
        ):
            assert old in written
            path.write_text(written.replace(old, new, 1), encoding="utf-8")
            assert "changed after it was written" in billed(do, kept, code=2).stderr, old
            assert not (tmp_path / "i.json").exists()

    def test_another_wiring_is_refused(self, do, run, tmp_path):
        (tmp_path / "own.toml").write_text(OWN, encoding="utf-8")
        kept = ordered(do, offered(do, pair=("own.toml", "van_upgraded")))
        change = '[as_found]\nchange_wires = [{ id = "charge-output", size = "14 SAE" }]\n'
        (tmp_path / "own.toml").write_text(OWN + change, encoding="utf-8")
        made = billed(do, kept, code=2)
        assert "found a wiring with check code" in made.stderr
        (tmp_path / "own.toml").write_text(OWN, encoding="utf-8")
        billed(do, kept)

    def test_nothing_is_noted_if_nothing_is_written(self, do, tmp_path):
        kept = ordered(do, offered(do))
        before = (tmp_path / kept).read_bytes()
        billed(do, kept, "--accounts", "none/a.csv", code=2)
        assert (tmp_path / kept).read_bytes() == before

    def test_whom_to_bill_must_be_known(self, do):
        do("quote", *SMALL, "-o", "q.json", "--number", "7", *DAY)
        do("accept", "q.json", *DAY)
        made = do("invoice", "q.json", "--number", "R-1", "-o", "i.json", *DAY, code=2)
        assert "found no customer" in made.stderr

    def test_options_are_judged(self, do):
        kept = ordered(do, offered(do))
        for option in (
            ("--paid", "-1"),
            ("--paid", "1,50"),
            ("--paid", "999999"),
            ("--paid", "0.001"),
            ("--delivered", "soon"),
        ):
            assert option[0] in billed(do, kept, *option, code=2).stderr, option

    def test_numbers_are_short_and_printable(self, do):
        kept = ordered(do, offered(do))
        for number in ("", "a\nb", "a\u202eb", "x" * 41):
            assert "--number" in billed(do, kept, number=number, code=2).stderr, number


class TestAccounts:
    def rows(self, path, separator):
        text = path.read_text(encoding="utf-8-sig")
        return list(csv.DictReader(io.StringIO(text, newline=""), delimiter=separator))

    def test_rows_add_up_to_the_invoice_in_commas(self, do, tmp_path):
        kept = ordered(do, offered(do, pair=VAN))
        billed(do, kept, "--accounts", "a.csv")
        made = data_of((tmp_path / "i.json").read_text("utf-8"))
        rows = self.rows(tmp_path / "a.csv", ";")
        sums = {
            key: sum(Decimal(row[key].replace(",", ".")) for row in rows)
            for key in ("net", "tax", "gross")
        }
        assert sums["gross"] == Decimal(made["to_pay"])
        assert sums["net"] == Decimal(made["net"])
        assert sums["tax"] == sum(Decimal(row["amount"]) for row in made["tax"])
        kinds = [(row["kind"], row["tax class"]) for row in rows]
        assert len(set(kinds)) == len(kinds)
        assert {kind for kind, _ in kinds} == {"labour", "parts", "sundries", "deposits"}
        assert all(row["number"] == "R-1" and row["currency"] == "EUR" for row in rows)

    def test_english_ones_have_points(self, do, tmp_path):
        kept = ordered(do, offered(do, "--language", "en-GB"))
        billed(do, kept, "--accounts", "a.csv")
        assert "." in self.rows(tmp_path / "a.csv", ",")[0]["net"]

    def test_a_customer_who_is_a_formula_is_a_text(self, do, tmp_path):
        wanted = ("--shop", "shop", "--number", "7", *DAY)
        do("quote", *SMALL, "-o", "q.json", *wanted, "--customer", "=1+1")
        billed(do, ordered(do, "shop/offers/7.json"), "--accounts", "a.csv")
        assert {row["customer"] for row in self.rows(tmp_path / "a.csv", ";")} == {"'=1+1"}


class TestMail:
    def test_goes_with_offer_and_invoice(self, do, tmp_path):
        kept = ordered(do, offered(do, "--mail", "o.txt"))
        billed(do, kept, "--mail", "i.txt")
        offer, invoice = ((tmp_path / name).read_text("utf-8") for name in ("o.txt", "i.txt"))
        assert offer.startswith("Betreff: Kostenvoranschlag 7, Brindlecote Carrier 60")
        assert "Guten Tag B. Person," in offer
        assert "Dies ist eine Schätzung, kein Festpreis" in offer
        assert invoice.startswith("Betreff: Rechnung R-1, ")
        assert re.search(r"Zu zahlen: [\d.,]+ €\.", invoice)
        assert "Fahrzeugelektrik am Wegende" in invoice

    def test_a_danger_is_told(self, do, tmp_path):
        wanted = ("--mail", "o.txt", "-o", "q.json")
        do("quote", "pickup_upgraded", "pickup_as_found", *wanted, code=1)
        assert "a danger would stay in the vehicle" in (tmp_path / "o.txt").read_text("utf-8")


def test_the_file_of_an_offer_names_configurations_as_seen_from_it(do, tmp_path):
    (tmp_path / "own.toml").write_text(OWN, encoding="utf-8")
    kept = offered(do, pair=("own.toml", "van_upgraded"))
    data = json.loads((tmp_path / kept).read_text("utf-8"))["data"]
    assert data["before_file"] == "../../own.toml"
    assert data["offers"][0]["after_file"] == "van_upgraded"
