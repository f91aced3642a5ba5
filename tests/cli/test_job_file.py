"""`--job`: one file says for whom the papers are, and what the shop adds by hand."""

import json
import shutil
from decimal import Decimal

import pytest
from every_case import every_case
from places import ROOT

VAN = ("van_original_ballast", "van_upgraded")
SMALL = ("van_upgraded", "van_voltmeter")
SHIPPED = ROOT / "profiles" / "shop" / "job.toml"


def quoted(run, folder, *more, pair=SMALL):
    done = run("quote", *pair, "-o", "q.json", *more, cwd=folder)
    assert done.returncode == 0, done.stderr
    data = json.loads((folder / "q.json").read_text("utf-8"))
    return data.get("data", data)


@pytest.fixture
def job(tmp_path):
    shutil.copy(SHIPPED, tmp_path / "job.toml")
    return tmp_path / "job.toml"


class TestIdentity:
    def test_without_a_number_it_is_a_draft(self, run, tmp_path):
        run("quote", *SMALL, "-o", "q.html", cwd=tmp_path)
        assert ">Draft of an estimate</h1>" in (tmp_path / "q.html").read_text("utf-8")
        run("quote", *SMALL, "-o", "q.html", "--number", "7", "--revision", "B", cwd=tmp_path)
        text = (tmp_path / "q.html").read_text("utf-8")
        assert ">Estimate</h1>" in text
        assert "7/B" in text

    def test_customer_and_vehicle_stand_on_every_paper(self, run, tmp_path, job):
        for command in ("worksheet", "kit", "quote"):
            done = run(command, *SMALL, "-o", "p.html", "--job", "job.toml", cwd=tmp_path)
            assert done.returncode == 0, done.stderr
            text = (tmp_path / "p.html").read_text("utf-8")
            for words in ("The bakery on the hill", "OLD 60", "45,300 miles", "2026-041"):
                assert words in text, (command, words)

    def test_options_stand_in_for_the_file(self, run, tmp_path, job):
        made = quoted(run, tmp_path, "--job", "job.toml", "--customer", "B. Person")
        assert made["customer"] == ["B. Person", "1 Oven Street", "Invented Town"]
        assert made["number"] == "2026-041/A"

    def test_the_plan_is_the_same_for_everybody(self, run, tmp_path, job):
        codes = {
            run("worksheet", *SMALL, "-o", "p.json", *more, cwd=tmp_path).stdout.split()[-1]
            for more in ((), ("--job", "job.toml"))
        }
        assert len(codes) == 1

    def test_two_offers_have_numbers_of_their_own(self, run, tmp_path, job):
        made = quoted(run, tmp_path, "--job", "job.toml", "--or", "van_trigger_module")
        assert made["number"] == "2026-041/A"
        assert [one["number"] for one in made["offers"]] == ["2026-041/A A", "2026-041/A B"]


class TestAddedByHand:
    def amounts(self, made):
        return {row["words"]: Decimal(row["amount"]) for row in made["offers"][0]["price"]}

    def test_hours_items_and_discount_are_in_the_sum(self, run, tmp_path, job):
        made = quoted(run, tmp_path, "--job", "job.toml", pair=VAN)
        alone = job.read_text("utf-8").partition("[[work]]")[0]
        (tmp_path / "alone.toml").write_text(alone, "utf-8")
        plain = quoted(run, tmp_path, "--job", "alone.toml", pair=VAN)
        (before,), (after,) = plain["offers"], made["offers"]
        assert Decimal(str(after["hours"])) - Decimal(str(before["hours"])) == Decimal("0.5")
        own = self.amounts(made)
        added = own["Fitting, Clean and grease the door hinges"]
        assert added == Decimal("29.00")  # half an hour at 58.00
        assert own["Disposal of the old battery"] == Decimal("8.00")
        discount = own["Discount for members of the club"]
        assert discount < 0
        assert sum(own.values()) == Decimal(after["net"])
        taxes = sum(Decimal(row["amount"]) for row in after["tax"])
        assert Decimal(after["net"]) + taxes == Decimal(after["to_pay"])

    def test_discount_is_of_labour_and_parts(self, run, tmp_path, job):
        text = job.read_text("utf-8").replace('percent = "5"', 'percent = "100"')
        job.write_text(text, "utf-8")
        made = quoted(run, tmp_path, "--job", "job.toml", pair=VAN)
        own = self.amounts(made)
        left = Decimal(made["offers"][0]["net"])
        sundries = [a for words, a in own.items() if "sundries" in words.lower()]
        deposits = [a for words, a in own.items() if "deposit" in words.lower()]
        assert left == sum(sundries) + sum(deposits) + Decimal("8.00")

    def test_amount_off(self, run, tmp_path, job):
        whole = quoted(run, tmp_path, "--job", "job.toml")
        text = job.read_text("utf-8").replace('percent = "5"', 'amount = "50.00"')
        job.write_text(text, "utf-8")
        made = quoted(run, tmp_path, "--job", "job.toml")
        assert self.amounts(made)["Discount for members of the club"] == Decimal("-50.00")
        assert made["offers"][0]["net"] != whole["offers"][0]["net"]

    def test_terms_of_the_job_stand_on_the_paper(self, run, tmp_path, job):
        run("quote", *SMALL, "-o", "q.html", "--job", "job.toml", cwd=tmp_path)
        text = (tmp_path / "q.html").read_text("utf-8")
        for words in ("you pay £200.00", "Three working days", "We keep the old parts"):
            assert words in text

    def test_the_shops_own_paper_adds_up(self, run, tmp_path, job):
        quoted(run, tmp_path, "--job", "job.toml", "--internal", "in.json")
        made = json.loads((tmp_path / "in.json").read_text("utf-8"))
        made = made.get("data", made)
        (one,) = made["offers"]
        lines = sum(Decimal(line["amount"]) for line in one["lines"])
        assert lines == Decimal(quoted(run, tmp_path, "--job", "job.toml")["offers"][0]["net"])


class TestRefused:
    @pytest.mark.parametrize(
        ("old", "new", "told"),
        [
            ('percent = "5"', 'percent = "5"\namount = "1.00"', "found percent and amount"),
            ('percent = "5"', "", "found neither percent nor amount"),
            ('percent = "5"', 'percent = "101"', "found 101 %"),
            ('hours = "0.5"', "hours = 0.5", "not kept exactly"),
            ('kind  = "fitting"', 'kind = "painting"', "painting"),
            ('number   = "2026-041"', "", "a revision without a number"),
            ('"2026-041"', '"2026\\u202e041"', "a text that can be printed"),
            ("[customer]", "[customers]", "customers"),
            ("OLD 60", "O" * 41, "at most 40 characters"),
        ],
    )
    def test_file(self, run, tmp_path, job, old, new, told):
        text = job.read_text("utf-8")
        assert old in text
        job.write_text(text.replace(old, new), "utf-8")
        done = run("quote", *SMALL, "-o", "q.json", "--job", "job.toml", cwd=tmp_path)
        assert done.returncode == 2
        assert "job.toml:" in done.stderr
        assert told in done.stderr
        assert not (tmp_path / "q.json").exists()

    @every_case("option", ["--number", "--revision", "--customer"])
    @every_case("command", ["quote", "worksheet"])
    def test_options_are_judged_as_the_file(self, run, tmp_path, command, option):
        done = run(command, *SMALL, "-o", "p.json", option, "x\u202ey", cwd=tmp_path)
        assert done.returncode == 2
        assert done.stderr.startswith(f"{option}: found ")
        assert not (tmp_path / "p.json").exists()


class TestKind:
    def test_a_job_has_its_own(self, run, tmp_path, job):
        path = tmp_path / "job.toml"
        text = path.read_text("utf-8")
        assert quoted(run, tmp_path, "--job", "job.toml")["kind"] == "estimate"
        path.write_text(text.replace('"estimate"', '"fixed price"'), encoding="utf-8")
        made = quoted(run, tmp_path, "--job", "job.toml")
        assert made["kind"] == "fixed price"
        assert made["offers"][0]["to_pay_covering_80_percent"] is None

    def test_another_word_is_refused(self, run, tmp_path, job):
        path = tmp_path / "job.toml"
        path.write_text(path.read_text("utf-8").replace('"estimate"', '"guess"'), encoding="utf-8")
        done = run("quote", *SMALL, "-o", "q.json", "--job", "job.toml", cwd=tmp_path)
        assert done.returncode == 2
        assert "guess" in done.stderr
