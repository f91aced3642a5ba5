"""From the form to a vehicle of one's own, as a person types it."""

import csv

import pypdf
import pytest
from every_case import every_case
from in_process import run
from pdf_words import page_text
from readme_profiles import PUMP, write_profiles

VAN = "van_original_resistance"


def fill(path, answers):
    """Writes cells into a form, as a spreadsheet with semicolons would save it."""
    with path.open(encoding="utf-8-sig", newline="") as file:
        rows = list(csv.DictReader(file))
    for row in rows:
        row.update(answers.get((row["line"], row["id"]), {}))
    with path.open("w", encoding="utf-8", newline="") as file:
        writer = csv.DictWriter(file, rows[0], delimiter=";")
        writer.writeheader()
        writer.writerows(rows)


@pytest.fixture(scope="module")
def forms(tmp_path_factory):
    """A small form in every format, in one folder, with what was said of each."""
    folder = write_profiles(tmp_path_factory.mktemp("forms"))
    suffixes = ("pdf", "html", "csv")
    said = {s: run("survey", PUMP[0], "-o", f"form.{s}", cwd=folder) for s in suffixes}
    return folder, said


class TestSurvey:
    @pytest.mark.parametrize(
        ("suffix", "start"),
        [("pdf", b"%PDF"), ("html", b"<!DOCTYPE"), ("csv", b"\xef\xbb\xbfline")],
    )
    def test_suffix_decides_the_format(self, forms, suffix, start):
        folder, said = forms
        assert said[suffix].returncode == 0, said[suffix].stderr
        assert "wires and" in said[suffix].stdout
        assert (folder / f"form.{suffix}").read_bytes().startswith(start)

    def test_units_date_and_paper(self, tmp_path):
        write_profiles(tmp_path)
        done = run(
            "survey",
            PUMP[0],
            "-o",
            "form.pdf",
            "--paper",
            "Letter",
            "--units",
            "us",
            "--date",
            "2031-05-06",
            cwd=tmp_path,
        )
        assert done.returncode == 0, done.stderr
        page = pypdf.PdfReader(tmp_path / "form.pdf").pages[0]
        assert round(float(page.mediabox.width)) == 612
        assert "2031-05-06" in page_text(page)

    def test_units_of_the_spreadsheet(self, tmp_path):
        lengths = {}
        for units in ("us", "metric"):
            name = f"{units}.csv"
            run("survey", "tractor_original", "-o", name, "--units", units, cwd=tmp_path)
            with (tmp_path / name).open(encoding="utf-8-sig", newline="") as file:
                lengths[units] = {
                    row["length"].split()[-1] for row in csv.DictReader(file) if row["length"]
                }
        assert lengths["metric"] == {"m"}
        assert lengths["us"] <= {"in", "ft"}

    @every_case("target", ["form.txt", "nowhere/form.pdf"])
    def test_bad_target(self, tmp_path, target):
        done = run("survey", VAN, "-o", target, cwd=tmp_path)
        assert done.returncode == 2
        assert target in done.stderr
        assert "Traceback" not in done.stderr
        assert not list(tmp_path.iterdir())

    def test_unknown_configuration(self, tmp_path):
        done = run("survey", "van_orignal", cwd=tmp_path)
        assert done.returncode == 2
        assert "van_original" in done.stderr


class TestRecord:
    def test_from_the_car_to_the_plan(self, tmp_path):
        run("survey", VAN, "-o", "form.csv", cwd=tmp_path)
        fill(
            tmp_path / "form.csv",
            {
                ("wire", "ignition-resistance"): {"present": "x", "measured": "0,1 ohm"},
                ("wire", "engine-strap"): {"present": "NO"},
            },
        )
        done = run("record", VAN, "form.csv", "-o", "my_van.toml", cwd=tmp_path)
        assert done.returncode == 0, done.stderr
        assert "my_van.toml: 2 changes, 1 finding, 0 doubts" in done.stdout
        words = " ".join(done.stdout.split())
        assert "plain wire in its place, or another wire that bypasses it" in words
        assert "Nobody looked at 49 of 51 wires" in done.stdout
        sheet = run("worksheet", "my_van.toml", "van_upgraded", "-o", "plan.json", cwd=tmp_path)
        assert sheet.returncode == 0, sheet.stderr

    def test_all_faults_at_once_and_nothing_written(self, tmp_path):
        run("survey", VAN, "-o", "form.csv", cwd=tmp_path)
        fill(
            tmp_path / "form.csv",
            {
                ("wire", "horn"): {
                    "present": "yes",
                    "size_found": "16 XL",
                    "colour_found": "reddish",
                },
                ("wire", "link"): {"present": "no", "length_measured": "1 m"},
            },
        )
        done = run("record", VAN, "form.csv", "-o", "my_van.toml", "--strict", cwd=tmp_path)
        assert done.returncode == 2
        assert done.stderr.count("form.csv:") == 3
        assert 'wire horn, size_found: found "16 XL"' in done.stderr
        assert "Traceback" not in done.stderr
        assert [path.name for path in tmp_path.iterdir()] == ["form.csv"]

    def test_wires_of_a_spreadsheet(self, tmp_path):
        run("show", VAN, "-o", "wires.csv", cwd=tmp_path)
        text = (tmp_path / "wires.csv").read_text(encoding="utf-8")
        (tmp_path / "wires.csv").write_text(text.replace("horn,horn,", "horn,accessory,", 1))
        done = run("record", VAN, "wires.csv", "-o", "my_van.toml", cwd=tmp_path)
        assert done.returncode == 0, done.stderr
        assert "my_van.toml: 1 change" in done.stdout
        assert "Nobody looked" not in done.stdout
        assert '{ id = "horn", circuit = "accessory" }' in (tmp_path / "my_van.toml").read_text()

    def test_missing_form(self, tmp_path):
        done = run("record", VAN, "nope.csv", "-o", "my_van.toml", cwd=tmp_path)
        assert done.returncode == 2
        assert done.stderr.startswith("nope.csv: found")

    @every_case("command", ["survey", "record"])
    def test_help_has_an_example(self, tmp_path, command):
        assert f"Example: upgrade-planner {command} " in run(command, "--help", cwd=tmp_path).stdout
