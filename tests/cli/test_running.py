"""How the program ends: the exit code says what happened, and the screen says it in one line."""

import os
import subprocess
import sys

import pytest
import typer

from upgrade_planner.cli import main, running
from upgrade_planner.cli.parameters import BROKEN_OFF, PROGRAM_MISTAKE
from upgrade_planner.cli.running import run
from upgrade_planner.errors import PlannerError


def ended(application):
    with pytest.raises(SystemExit) as caught:
        run(application)
    return caught.value.code


def raising(error):
    def application(**_):
        raise error

    return application


class TestExitCodes:
    def test_unforeseen_error_is_one_line_and_its_own_code(self, capsys, monkeypatch):
        monkeypatch.delenv(running.DEBUG, raising=False)
        assert ended(raising(KeyError("alternator"))) == PROGRAM_MISTAKE
        shown = capsys.readouterr().err
        assert shown.count("\n") == 1
        assert "mistake in the program" in shown
        assert "KeyError: 'alternator'" in shown

    def test_on_request_it_shows_where(self, monkeypatch):
        monkeypatch.setenv(running.DEBUG, "1")
        with pytest.raises(KeyError):
            run(raising(KeyError("alternator")))

    def test_bad_input_is_two_and_danger_is_one(self, capsys):
        assert ended(raising(PlannerError("found this; expected that"))) == 2
        assert capsys.readouterr().err == "found this; expected that\n"
        assert ended(lambda **_: 1) == 1

    def test_broken_off_is_not_a_danger(self, capsys):
        assert ended(raising(typer.Abort())) == BROKEN_OFF

    def test_usage_error_is_two(self, capsys):
        assert ended(raising(typer.BadParameter("no such thing"))) == 2
        assert "no such thing" in capsys.readouterr().err


def program(*arguments, shell="", **environment):
    command = [sys.executable, "-m", "upgrade_planner", *arguments]
    if shell:
        command = ["bash", "-o", "pipefail", "-c", f"{' '.join(command)} {shell}"]
    return subprocess.run(
        command,
        capture_output=True,
        env={**os.environ, **environment},
        stdin=subprocess.DEVNULL,
        check=False,
    )


class TestStreams:
    def test_reader_that_goes_ends_the_program_quietly(self):
        done = program("show", "carrier_van", shell="| head -1 > /dev/null")
        assert (done.returncode, done.stderr) == (0, b"")

    @pytest.mark.skipif(not os.path.exists("/dev/full"), reason="needs a disk that is always full")
    def test_full_disk_is_told(self):
        done = program("show", "carrier_van", shell="> /dev/full")
        assert done.returncode == 2
        assert done.stderr.decode().count("\n") == 1
        assert "standard output: not written" in done.stderr.decode()

    def test_screen_without_arrows_and_ohms_gets_other_characters(self):
        done = program("show", "carrier_van", PYTHONIOENCODING="ascii", PYTHONUTF8="0")
        assert done.returncode == 0
        assert done.stdout.isascii()


class TestFilesOfTheOwner:
    """What people fill or edit is replaced on request only; an input is never an output."""

    def call(self, monkeypatch, capsys, folder, *arguments):
        monkeypatch.chdir(folder)
        monkeypatch.setattr(sys, "argv", ["upgrade-planner", *arguments])
        with pytest.raises(SystemExit) as caught:
            main()
        return caught.value.code, capsys.readouterr().err

    @pytest.mark.parametrize(
        "arguments",
        [
            ("show", "carrier_van", "-o", "mine.toml"),
            ("show", "van_upgraded", "-o", "mine.csv"),
            ("survey", "van_upgraded", "-o", "mine.csv"),
            ("describe", "-o", "mine.toml"),
            ("record", "van_upgraded", "form.csv", "-o", "mine.toml"),
        ],
    )
    def test_hand_work_is_kept_until_asked(self, monkeypatch, capsys, tmp_path, arguments):
        mine = tmp_path / arguments[-1]
        mine.write_text("an evening's work")
        code, told = self.call(monkeypatch, capsys, tmp_path, *arguments)
        assert code == 2
        assert f"{mine.name}: found a file of that name" in told
        assert "--replace" in told
        assert mine.read_text() == "an evening's work"

    def test_copy_is_replaced_when_asked(self, monkeypatch, capsys, tmp_path):
        (tmp_path / "mine.toml").write_text("old")
        arguments = ("show", "carrier_van", "-o", "mine.toml", "--replace")
        code, _ = self.call(monkeypatch, capsys, tmp_path, *arguments)
        assert code == 0
        assert "[vehicle]" in (tmp_path / "mine.toml").read_text()

    @pytest.mark.parametrize(
        "arguments",
        [
            ("show", "mine.toml", "-o", "mine.toml", "--replace"),
            ("record", "mine.toml", "form.csv", "-o", "mine.toml", "--replace"),
            ("kit", "van_original", "van_upgraded", "--prices", "mine.csv", "-o", "mine.csv"),
        ],
    )
    def test_input_is_never_an_output(self, monkeypatch, capsys, tmp_path, arguments):
        (tmp_path / "mine.toml").write_text('[configuration]\nbased_on = "van_upgraded"\n')
        (tmp_path / "mine.csv").write_text("price list")
        (tmp_path / "shop.toml").write_text(
            '[prices]\nfile = "mine.csv"\ndecimal = "point"\ncurrency = "EUR"\n'
        )
        before = {path.name: path.read_text() for path in tmp_path.iterdir()}
        code, told = self.call(monkeypatch, capsys, tmp_path, *arguments)
        assert code == 2
        assert "made from" in told
        assert {path.name: path.read_text() for path in tmp_path.iterdir()} == before

    @pytest.mark.parametrize("text", ["A\nB", "12\u202e34", "\x1b[31m", "9" * 41])
    def test_number_that_cannot_be_printed_is_refused(self, monkeypatch, capsys, tmp_path, text):
        arguments = ("worksheet", "van_original_ballast", "van_upgraded", "--number", text)
        code, told = self.call(monkeypatch, capsys, tmp_path, *arguments)
        assert code == 2
        assert "that can be printed" in " ".join(told.split())
