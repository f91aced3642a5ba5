"""The command line end to end: what is written, what is said, what is refused."""

import csv
import io
import json
import re
import shlex
import subprocess
import sys

import pypdf
import pytest
from as_data import data_of
from every_case import every_case
from first_pages import only_first_pages
from in_process import run
from pdf_words import page_text, page_texts
from readme_profiles import PUMP, write_profiles

PAIR = ("van_original_resistance", "van_upgraded")
STARTS = {"pdf": b"%pdf", "html": b"<!doctype html>", "json": b"{", "csv": b"\xef\xbb\xbf"}


@pytest.fixture(scope="module")
def sheets(tmp_path_factory):
    """A small sheet in every format, in one folder, with what was said of each."""
    folder = write_profiles(tmp_path_factory.mktemp("sheets"))
    said = {name: run("worksheet", *PUMP, "-o", f"sheet.{name}", cwd=folder) for name in STARTS}
    return folder, said


def plan_in(path):
    return data_of(path.read_text(), ("plan", 3))


class TestWorksheet:
    @pytest.mark.parametrize("suffix", STARTS)
    def test_suffix_decides_the_format(self, sheets, suffix):
        folder, said = sheets
        assert said[suffix].returncode == 0, said[suffix].stderr
        assert "steps" in said[suffix].stdout
        assert "Traceback" not in said[suffix].stderr
        content = (folder / f"sheet.{suffix}").read_bytes()
        assert content.lower().startswith(STARTS[suffix])

    def test_date_option_wins_over_the_environment(self, tmp_path):
        run("worksheet", *PAIR, "-o", "a.json", "--date", "2031-05-06", cwd=tmp_path)
        assert data_of((tmp_path / "a.json").read_text())["date"] == "2031-05-06"

    def test_letter_paper_is_letter_size(self, tmp_path):
        nothing_to_do = (PAIR[1], PAIR[1])
        run("worksheet", *nothing_to_do, "-o", "a.pdf", "--paper", "Letter", cwd=tmp_path)
        box = pypdf.PdfReader(tmp_path / "a.pdf").pages[0].mediabox
        assert (round(float(box.width)), round(float(box.height))) == (612, 792)

    def test_policy_changes_the_dispositions(self, tmp_path):
        run("worksheet", *PAIR, "-o", "a.json", cwd=tmp_path)
        run("worksheet", *PAIR, "-o", "clean.json", "--policy", "clean", cwd=tmp_path)
        usual, clean = (plan_in(tmp_path / f"{name}.json") for name in ("a", "clean"))
        assert "cap off" in {w["disposition"] for w in usual["wires"]}
        assert "cap off" not in {w["disposition"] for w in clean["wires"]}

    @every_case(
        ("units", "shown", "hidden"),
        [
            ("metric", " m", " ft"),
            ("us", " in", " m "),
        ],
    )
    def test_units_option_chooses_the_lengths(self, tmp_path, units, shown, hidden):
        run("worksheet", *PAIR, "-o", "a.csv", "--units", units, cwd=tmp_path)
        text = (
            (tmp_path / "a.csv").read_text(encoding="utf-8-sig").replace("\N{NO-BREAK SPACE}", " ")
        )
        cuts = [line for line in text.splitlines() if ", cut " in line]
        assert cuts
        assert all(shown in cut.split(", cut ")[1].split("|")[0] for cut in cuts)
        assert not any(hidden in cut.split(", cut ")[1].split("|")[0] for cut in cuts)

    def test_json_has_every_step_that_the_csv_has(self, sheets):
        plan = plan_in(sheets[0] / "sheet.json")
        text = (sheets[0] / "sheet.csv").read_text(encoding="utf-8-sig")
        in_rows = [row["step"] for row in csv.DictReader(io.StringIO(text))]
        assert sorted(in_rows) == sorted(step["number"] for step in plan["steps"])

    def test_pdf_carries_the_plan(self, sheets):
        reader = pypdf.PdfReader(sheets[0] / "sheet.pdf")
        (attached,) = reader.attachments["upgrade-plan.json"]
        assert attached == (sheets[0] / "sheet.json").read_bytes()

    def test_same_configuration_is_said_to_need_nothing(self, tmp_path):
        done = run("worksheet", PAIR[1], PAIR[1], "-o", "a.pdf", cwd=tmp_path)
        assert done.returncode == 0, done.stderr
        assert "0 steps" in done.stdout
        text = "".join(page_texts(tmp_path / "a.pdf"))
        assert "nothing to do" in " ".join(text.split())

    def test_an_edited_as_found_file_shows_in_the_new_sheet(self, tmp_path):
        run("show", "van_as_found", "-o", "mine.toml", cwd=tmp_path)
        mine = tmp_path / "mine.toml"
        text = mine.read_text().replace(
            'size = "14 SAE", colour = "BK"', 'size = "16 SAE", colour = "BU"'
        )
        assert text != mine.read_text()
        mine.write_text(text)
        done = run("worksheet", "mine.toml", "van_upgraded", "-o", "a.json", cwd=tmp_path)
        assert done.returncode == 0, done.stderr
        wires = data_of((tmp_path / "a.json").read_text())["wires"]
        output = next(w for w in wires if w["circuit"] == "charge output")
        assert (output["before"]["size"], output["before"]["colour"]) == ("16 SAE", "BU")

    def test_danger_in_the_target_is_exit_code_1_and_still_prints(self, tmp_path, monkeypatch):
        only_first_pages(monkeypatch)
        run("show", "van_upgraded", "-o", "bad.toml", cwd=tmp_path)
        text = (tmp_path / "bad.toml").read_text()
        text = text.replace("[changes]", '[changes]\nremove_wires = ["sensing"]')
        (tmp_path / "bad.toml").write_text(text)
        command = ("worksheet", PAIR[1], "bad.toml", "--no-drawings", "-o", "a.pdf")
        done = run(*command, cwd=tmp_path)
        assert done.returncode == 1
        assert "danger" in done.stderr
        first = page_text(pypdf.PdfReader(tmp_path / "a.pdf").pages[0])
        assert "CHG-SENSE-OPEN" in first


class TestBadTargets:
    def test_existing_file_is_left_alone_when_the_input_is_bad(self, tmp_path):
        (tmp_path / "a.pdf").write_text("old")
        done = run("worksheet", "no_such_van", PAIR[1], "-o", "a.pdf", cwd=tmp_path)
        assert done.returncode == 2
        assert (tmp_path / "a.pdf").read_text() == "old"
        assert [path.name for path in tmp_path.iterdir()] == ["a.pdf"]

    @every_case(
        ("target", "words"),
        [
            ("sheet.docx", "expected one of .pdf, .html, .json, .csv"),
            ("missing/sheet.pdf", "folder"),
            ("folder.pdf", "found a folder"),
        ],
    )
    def test_target_that_cannot_be_written(self, tmp_path, target, words):
        (tmp_path / "folder.pdf").mkdir()
        done = run("worksheet", *PAIR, "-o", target, cwd=tmp_path)
        assert done.returncode == 2
        assert words in done.stderr
        assert "Traceback" not in done.stderr
        assert [path.name for path in tmp_path.iterdir()] == ["folder.pdf"]

    @every_case(
        "arguments",
        [
            ("worksheet", *PAIR, "--date", "yesterday"),
            ("worksheet", *PAIR, "--paper", "A3"),
            ("worksheet", PAIR[0]),
            ("worksheet", PAIR[0], "tractor_upgraded"),
            ("compare", "van_upgradde", PAIR[1]),
            ("show", "carrier_vann"),
            ("show", "carrier_van", "-o", "x.csv"),
            ("frobnicate",),
        ],
    )
    def test_bad_arguments_are_exit_code_2_without_traceback(self, tmp_path, arguments):
        done = run(*arguments, cwd=tmp_path)
        assert done.returncode == 2
        assert done.stderr.strip()
        assert "Traceback" not in done.stderr
        assert not list(tmp_path.iterdir())

    def test_misspelt_name_is_answered_with_the_nearest(self, tmp_path):
        done = run("compare", "van_upgradde", PAIR[1], cwd=tmp_path)
        assert "did you mean 'van_upgraded'" in done.stderr

    def test_wrong_epoch_is_one_line(self, tmp_path):
        done = run("worksheet", *PAIR, cwd=tmp_path, SOURCE_DATE_EPOCH="soon")
        assert done.returncode == 2
        assert "SOURCE_DATE_EPOCH=soon" in done.stderr


class TestCompare:
    def test_table_names_every_change_with_its_reason(self, tmp_path):
        done = run("compare", *PAIR, cwd=tmp_path)
        assert done.returncode == 0
        for word in ("REMOVE", "ADD", "RESIZE", "MOVE", "CAP OFF", "ignition-feed", "sensing"):
            assert word in done.stdout
        assert "head-switch" not in done.stdout

    def test_all_shows_kept_wires_too(self, tmp_path):
        done = run("compare", *PAIR, "--all", cwd=tmp_path)
        assert "head-switch" in done.stdout

    def test_next_command_can_be_copied(self, tmp_path):
        told = f'[configuration]\ntitle = "M"\nsummary = "M."\nbased_on = "{PAIR[1]}"\n'
        (tmp_path / "my van.toml").write_text(told, encoding="utf-8")
        said = run("compare", PAIR[0], "my van.toml", cwd=tmp_path).stdout
        (line,) = re.findall(r"Next: upgrade-planner (.*)", said)
        *words, _ = shlex.split(line)
        assert words[:3] == ["worksheet", PAIR[0], "my van.toml"]
        assert run(*words, "sheet.json", cwd=tmp_path).returncode == 0

    def test_json_is_the_comparison_as_data(self, tmp_path):
        text = run("compare", *PAIR, "--json", cwd=tmp_path).stdout
        assert json.loads(text)["format"] == "upgrade-planner comparison"
        data = data_of(text)
        assert {w["disposition"] for w in data["wires"]} == {
            "keep",
            "remove",
            "add",
            "resize",
            "renew",
            "move",
            "cap off",
        }
        assert all(w["reason"] for w in data["wires"])


class TestListAndShow:
    def test_list_names_every_shipped_profile(self, tmp_path):
        done = run("list", cwd=tmp_path)
        for name in ("carrier_van", "row_tractor", "van_as_found"):
            assert name in done.stdout
        assert "points_ballast" in run("list", "--systems", cwd=tmp_path).stdout
        listed = data_of(run("list", "--json", cwd=tmp_path).stdout)["profiles"]
        assert {"configuration", "vehicle", "system"} == {item["kind"] for item in listed}
        assert all(item["title"] and item["summary"] for item in listed)

    @every_case("name", ["van_as_found", "carrier_van", "points_ballast"])
    def test_show_prints_something_to_read(self, tmp_path, name):
        done = run("show", name, cwd=tmp_path)
        assert done.returncode == 0, done.stderr
        assert len(done.stdout.splitlines()) > 20

    def test_wires_go_out_as_csv(self, tmp_path):
        done = run("show", "van_as_found", "-o", "wires.csv", cwd=tmp_path)
        assert done.returncode == 0
        rows = list(csv.DictReader((tmp_path / "wires.csv").open(encoding="utf-8-sig")))
        assert any(row["id"] == "found-bypass" for row in rows)


class TestHelp:
    @every_case("command", ["worksheet", "compare", "list", "show"])
    def test_every_command_teaches_with_an_example(self, tmp_path, command):
        done = run(command, "--help", cwd=tmp_path)
        assert done.returncode == 0
        assert "Example: upgrade-planner" in done.stdout

    def test_help_imports_nothing_heavy(self, tmp_path):
        script = (
            "import sys, upgrade_planner.cli;"
            "heavy = {'weasyprint', 'deepdiff', 'jinja2', 'cattrs', 'networkx'} & set(sys.modules);"
            "sys.exit(bool(heavy))"
        )
        done = subprocess.run([sys.executable, "-c", script], cwd=tmp_path, check=False)
        assert done.returncode == 0

    def test_version_is_said(self, tmp_path):
        assert run("--version", cwd=tmp_path).stdout.startswith("upgrade-planner ")

    def test_reader_that_goes_away_is_no_fault(self, tmp_path):
        command = f"{sys.executable} -m upgrade_planner show van_as_found | head -1"
        done = subprocess.run(
            command, shell=True, cwd=tmp_path, capture_output=True, text=True, check=False
        )
        assert "Traceback" not in done.stderr
