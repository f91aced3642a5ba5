"""Sheets in stages and the way back, from the command line, with one person's own stage file."""

import csv
import re

import pypdf
import pytest
from as_data import assert_described, data_of
from first_pages import only_first_pages
from in_process import run
from pdf_words import page_text

from upgrade_planner.documents.shared.writing import NotWritten, write_all

ENDS = ("van_original_resistance", "van_upgraded")
STAGE = """
[configuration]
title = "Stage 1: ignition only"
summary = "Electronic ignition; the charging waits."
vehicle = "carrier_van"

[systems]
ignition = "integral_coil_distributor"
charging = "alternator_external_regulator"
starting = "solenoid_on_starter"

[changes]
change_wires = [{ id = "main-feed", size = "10 SAE", insulation = "GXL" }]
"""
NO_SENSING = """
[configuration]
title = "Stage 1: all but the sensing"
summary = "The sensing wire is forgotten."
based_on = "van_upgraded"

[changes]
remove_wires = ["sensing"]
"""


@pytest.fixture
def folder(tmp_path):
    (tmp_path / "stage1.toml").write_text(STAGE)
    (tmp_path / "danger.toml").write_text(NO_SENSING)
    return tmp_path


def in_stages(folder, target, *options, stage="stage1.toml"):
    return run("worksheet", ENDS[0], stage, ENDS[1], "-o", target, *options, cwd=folder)


@pytest.fixture(scope="module")
def staged(tmp_path_factory):
    """Both sheets as HTML, JSON and CSV, written once."""
    made = tmp_path_factory.mktemp("staged")
    (made / "stage1.toml").write_text(STAGE)
    for suffix in ("html", "json", "csv"):
        done = in_stages(made, f"sheet.{suffix}", "--no-drawings")
        assert done.returncode == 0, done.stderr
    return made


def files(folder):
    return {path.name for path in folder.iterdir()} - {"stage1.toml", "danger.toml"}


@pytest.fixture
def whole(monkeypatch):
    """The HTML of each sheet that is printed; of its PDF only the first pages are made."""
    return only_first_pages(monkeypatch)


def on_paper(path, pages=1):
    """The text of the first pages of a PDF."""
    found = pypdf.PdfReader(path).pages
    return " ".join(" ".join(page_text(found[n]) for n in range(pages)).split())


class TestStages:
    @pytest.mark.parametrize(
        ("suffix", "policy"), [("html", "reversible"), ("json", "clean"), ("csv", "reversible")]
    )
    def test_one_file_a_stage_beside_each_other(self, folder, suffix, policy):
        done = in_stages(folder, f"sheet.{suffix}", "--policy", policy, "--no-drawings")
        assert done.returncode == 0, done.stderr
        assert files(folder) == {f"sheet_1.{suffix}", f"sheet_2.{suffix}"}
        assert "sheet_1" in done.stdout
        assert "sheet_2" in done.stdout

    @pytest.mark.usefixtures("whole")
    def test_first_page_says_where_it_stands_and_what_may_be_driven(self, folder):
        done = in_stages(folder, "sheet.pdf", "--paper", "Letter", "--no-drawings")
        assert done.returncode == 0, done.stderr
        first = on_paper(folder / "sheet_1.pdf")
        for words in (
            "stage 1 of 2",
            "Between stage 1 and stage 2",
            "WITH CARE",
            "PROT-NONE",
            "as before this stage",
            "sheet_2.pdf",
        ):
            assert words in first
        assert "Readings to keep an eye on" in on_paper(folder / "sheet_1.pdf", 2)
        last = on_paper(folder / "sheet_2.pdf")
        assert "stage 2 of 2" in last
        assert "Between stage" not in last
        assert "All stages against one job" in last

    def test_a_wire_fitted_ahead_is_marked_where_it_is_fitted(self, staged):
        with (staged / "sheet_1.csv").open(encoding="utf-8-sig", newline="") as file:
            rows = {row["instruction"]: row["details"] for row in csv.DictReader(file)}
        (feed,) = [rows[text] for text in rows if re.fullmatch(r"Route W\d+\smain-feed\.", text)]
        assert "8\N{NO-BREAK SPACE}SAE" in feed
        assert "Fitted in the size of stage 2." in feed
        second = (staged / "sheet_2.csv").read_text(encoding="utf-8-sig")
        assert not re.search(r"Route W\d+\smain-feed", second)

    def test_data_has_the_reason_and_the_totals(self, staged):
        texts = [(staged / f"sheet_{n}.json").read_text() for n in (1, 2)]
        for text in texts:
            assert_described(text)
        one, two = map(data_of, texts)
        (ahead,) = one["stage"]["fitted_ahead"]
        assert (ahead["wire"], ahead["for_stage"]) == ("main-feed", 2)
        wire = next(w for w in one["wires"] if w["mark"] == "main-feed")
        assert ahead["reason"] in wire["reason"]
        assert one["stage"]["may_be_driven_after"] is True
        assert two["stage"]["may_be_driven_after"] is None
        assert one["stage"]["watch"]
        totals = [one["stage"]["totals"], two["stage"]["totals"]]
        for key in ("steps", "cable_m", "terminals"):
            parts = sum(t["this_stage"][key] for t in totals)
            assert parts == pytest.approx(totals[0]["all_stages"][key])
        assert totals[0]["one_job"] == totals[1]["one_job"]
        assert totals[0]["all_stages"]["hours"]["likely"] > totals[0]["one_job"]["hours"]["likely"]

    def test_a_danger_in_between_is_exit_code_1_and_forbids_driving(self, folder):
        done = in_stages(folder, "sheet.html", "--no-drawings", stage="danger.toml")
        assert done.returncode == 1
        assert "after stage 1" in done.stderr
        page = (folder / "sheet_1.html").read_text()
        assert "MAY NOT BE DRIVEN" in page
        assert "DANGER CHG-SENSE-OPEN" in page
        assert "new with this stage" in page
        assert "Readings to keep an eye on" not in page

    def test_own_sheet_number_is_counted_on(self, folder):
        in_stages(folder, "sheet.json", "--number", "17")
        numbers = [
            data_of((folder / f"sheet_{n}.json").read_text())["sheet_number"] for n in (1, 2)
        ]
        assert numbers == ["17-1", "17-2"]

    @pytest.mark.parametrize(
        ("names", "words"),
        [
            ((ENDS[0],), "Missing argument 'AFTER...'"),
            ((ENDS[0], "tractor_original", ENDS[1]), "row_tractor"),
            ((ENDS[0], ENDS[0], ENDS[1]), "stage 1: found the same wiring"),
            ((ENDS[0], ENDS[1], ENDS[1]), "stage 2: found the same wiring"),
            ((ENDS[0], "stage9.toml", ENDS[1]), "did you mean 'stage1.toml'"),
        ],
    )
    def test_bad_chains_are_exit_code_2_and_write_nothing(self, folder, names, words):
        done = run("worksheet", *names, "-o", "sheet.pdf", cwd=folder)
        assert done.returncode == 2
        assert words in done.stderr
        assert "Traceback" not in done.stderr
        assert files(folder) == set()

    def test_no_half_set_if_one_file_cannot_be_written(self, folder):
        (folder / "sheet_1.html").write_text("old")
        (folder / "sheet_2.html").mkdir()
        done = in_stages(folder, "sheet.html")
        assert done.returncode == 2
        assert "sheet_2.html: found a folder" in done.stderr
        assert (folder / "sheet_1.html").read_text() == "old"
        assert files(folder) == {"sheet_1.html", "sheet_2.html"}

    def test_sheets_for_the_browser_need_nothing_from_outside(self, staged):
        page = (staged / "sheet_1.html").read_text()
        assert "http" not in page
        assert "Fitted now for a later stage" in page


class TestWritingAll:
    def test_a_failing_rename_brings_back_what_was_there(self, tmp_path, monkeypatch):
        from pathlib import Path

        first, second, third = (tmp_path / name for name in ("a.txt", "b.txt", "c.txt"))
        first.write_text("old a")
        real = Path.replace

        def failing(self, target):
            if Path(target) == third:
                raise OSError(28, "No space left on device")
            return real(self, target)

        monkeypatch.setattr(Path, "replace", failing)
        with pytest.raises(NotWritten, match=r"c\.txt: not written \(No space left"):
            write_all({first: b"new a", second: b"new b", third: b"new c"})
        assert first.read_text() == "old a"
        assert [path.name for path in tmp_path.iterdir()] == ["a.txt"]

    def test_all_are_written_and_nothing_else_is_left(self, tmp_path):
        (tmp_path / "a").write_text("old")
        write_all({tmp_path / "a": b"1", tmp_path / "b": b"2"})
        assert {p.name: p.read_text() for p in tmp_path.iterdir()} == {"a": "1", "b": "2"}


class TestWayBack:
    def back(self, folder, target, *options):
        return run("worksheet", *ENDS, "--way-back", "-o", target, *options, cwd=folder)

    def test_the_sheet_says_what_it_is_and_what_it_undoes(self, folder, whole):
        forward = run("worksheet", *ENDS, "-o", "there.json", cwd=folder)
        done = self.back(folder, "back.pdf", "--no-drawings")
        assert (forward.returncode, done.returncode) == (0, 0), done.stderr
        code = data_of((folder / "there.json").read_text())["check_code"]
        first = on_paper(folder / "back.pdf")
        for words in (
            "Work sheet, the way back:",
            code,
            "What cannot be undone",
            "REFIT 8",
            "REJOIN 3",
            "Caps cut off",
        ):
            assert words in first
        assert "To be made new" in first
        assert "link: 14" in first
        (html,) = whole
        assert "Out of the bag" in html

    @pytest.mark.usefixtures("whole")
    def test_under_clean_it_says_what_has_to_be_bought(self, folder):
        done = self.back(folder, "back.pdf", "--policy", "clean", "--no-drawings")
        assert done.returncode == 0, done.stderr
        first = on_paper(folder / "back.pdf")
        assert "To be made new" in first
        assert "start-bypass: 14" in first
        assert "Tape of harnesses cut open" in first

    def test_data_of_both_sheets_agree_on_the_bag(self, folder):
        run("worksheet", *ENDS, "-o", "there.json", cwd=folder)
        self.back(folder, "back.json")
        texts = [(folder / f"{n}.json").read_text() for n in ("there", "back")]
        for text in texts:
            assert_described(text)
        there, back = map(data_of, texts)
        assert there["bag"] == back["way_back"]["bag"]
        assert back["way_back"]["undoes"] == there["check_code"]
        assert back["way_back"]["wires_to_make_new"] == ["link"]
        assert {w["disposition"] for w in back["wires"]} == {
            "add",
            "keep",
            "move",
            "remove",
            "refit",
            "rejoin",
        }

    def test_every_step_begins_with_a_verb_that_sheets_use(self, folder):
        self.back(folder, "back.csv")
        with (folder / "back.csv").open(encoding="utf-8-sig", newline="") as file:
            rows = list(csv.DictReader(file))
        texts = [re.sub(r"\bW\d+\s", "", row["instruction"]) for row in rows]
        assert "Remove the caps of ignition-resistance at both ends." in texts
        assert "Route charge-output, the old one from the bag." in texts
        assert {text.split()[0] for text in texts} <= {
            "Disconnect",
            "Remove",
            "Mark",
            "Tag",
            "Photograph",
            "Fit",
            "Route",
            "Connect",
            "Measure",
            "Switch",
            "Compare",
            "Look",
            "Watch",
            "Feel",
            "Read",
            "Crank",
            "Try",
            "Tie",
            "Pull",
        }
        self.back(folder, "back.html", "--no-drawings")
        assert "in a second bag" in (folder / "back.html").read_text()

    def test_there_is_no_way_back_over_stages(self, folder):
        done = in_stages(folder, "back.pdf", "--way-back")
        assert done.returncode == 2
        assert "--way-back: found 3 configurations" in done.stderr
        assert files(folder) == set()

    def test_what_lies_in_the_bag_stands_on_the_way_back_only(self, folder):
        run("worksheet", *ENDS, "-o", "there.html", "--no-drawings", cwd=folder)
        self.back(folder, "back.html", "--no-drawings")
        there, back = ((folder / f"{name}.html").read_text() for name in ("there", "back"))
        assert "in the bag" in there
        assert "Out of the bag" not in there
        assert "Out of the bag" in back
