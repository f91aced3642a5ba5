"""`-o -`: the document goes to standard output, all words to standard error."""

import in_process
import own_process
from as_data import data_of
from every_case import every_case
from readme_profiles import PUMP, write_profiles

PAIR = ("van_as_found", "van_upgraded")
STAGES = ("van_as_found", "van_original_ballast", "van_upgraded")


class TestStandardOutput:
    def test_plan_through_a_pipe(self, tmp_path):
        there = set(write_profiles(tmp_path).iterdir())
        done = own_process.run("worksheet", *PUMP, "-o", "-", "--format", "json", cwd=tmp_path)
        assert done.returncode == 0, done.stderr
        assert data_of(done.stdout)
        assert done.stderr.startswith("-: ")
        assert set(tmp_path.iterdir()) == there

    def test_it_is_what_the_file_would_hold(self, tmp_path):
        write_profiles(tmp_path)
        done = own_process.run("kit", *PUMP, "-o", "-", "--format", ".CSV", cwd=tmp_path)
        in_process.run("kit", *PUMP, "-o", "kit.csv", cwd=tmp_path)
        assert done.stdout == (tmp_path / "kit.csv").read_text("utf-8")

    @every_case(
        ("arguments", "told"),
        [
            (("kit", *PAIR, "-o", "-"), "-o -: found no format"),
            (
                ("kit", *PAIR, "-o", "k.csv", "--format", "csv"),
                "--format: found it beside",
            ),
            (("kit", *PAIR, "-o", "-", "--format", "docx"), "found the suffix '.docx'"),
            (("kit", *PAIR, "-o", "-", "--format", "../x"), "-o -: found no format"),
            (
                (
                    "worksheet",
                    PAIR[0],
                    "van_original_ballast",
                    PAIR[1],
                    "-o",
                    "-",
                    "--format",
                    "pdf",
                ),
                "-o -: found a job of 2 sheets",
            ),
        ],
    )
    def test_refused(self, run, tmp_path, arguments, told):
        done = run(*arguments, cwd=tmp_path)
        assert done.returncode == 2
        assert told in done.stderr
        assert done.stdout == ""
        assert not list(tmp_path.iterdir())
