"""Sentences of the commands: broken between words on a terminal, whole for other programs."""

import os
import pty
import subprocess
import sys
from functools import cache

from every_case import every_case

PROGRAM = [sys.executable, "-m", "upgrade_planner"]
SHOWN = ("show", "--kind", "alternator_internal_regulator")


@cache
def for_another_program() -> str:
    """What is shown, through a pipe."""
    return subprocess.run([*PROGRAM, *SHOWN], capture_output=True, text=True, check=True).stdout


def on_a_terminal(*arguments: str, columns: int) -> list[str]:
    """What a person sees; both streams go to the terminal."""
    ours, theirs = pty.openpty()
    with subprocess.Popen(
        [*PROGRAM, *arguments],
        stdin=subprocess.DEVNULL,
        stdout=theirs,
        stderr=theirs,
        env={**os.environ, "COLUMNS": str(columns), "TERM": "dumb"},
    ) as process:
        os.close(theirs)
        seen = b""
        while True:
            try:
                some = os.read(ours, 65536)
            except OSError:  # the other end is closed
                break
            if not some:
                break
            seen += some
        process.wait()
    os.close(ours)
    return seen.decode().replace("\r", "").splitlines()


@every_case("columns", [45, 60])
def test_lines_end_between_words_and_go_on_further_in(columns):
    seen = on_a_terminal(*SHOWN, columns=columns)
    assert max(map(len, seen)) <= columns
    whole = for_another_program()
    assert " ".join(" ".join(seen).split()) == " ".join(whole.split())
    assert max(map(len, whole.splitlines())) > columns


def test_a_refusal_ends_its_lines_between_words():
    seen = on_a_terminal("compare", "van_original", "van_upgraded", columns=60)
    assert len(seen) > 1
    assert max(map(len, seen)) <= 60
    assert all(line.startswith("  ") for line in seen[1:])
