"""
What commands cost, as ratios to the import of the command-line library in the same run.

Run by hand: `python tests/benchmarks/commands.py [RUNS]`. Least processor time and least time on
the clock: where the machine does other work, take more runs and look at the first. Modules are
compiled beforehand, as they are after an installation.
"""

import os
import resource
import subprocess
import sys
import time
from pathlib import Path
from tempfile import TemporaryDirectory

RUNS = 5
UNIT = ("-c", "import typer")
PLANNER = ("-m", "upgrade_planner")
PAIR = ("worksheet", "van_original_resistance", "van_upgraded", "--date", "2026-01-02", "-o")
COMMANDS = {
    "--help": ("--help",),
    "list": ("list",),
    "check van_upgraded": ("check", "van_upgraded"),
    "plan of the demo, JSON": (*PAIR, "plan.json"),
    "sheet of the demo, PDF": (*PAIR, "sheet.pdf"),
    "the same, no pictures": (*PAIR, "sheet.pdf", "--no-drawings"),
}


def costs(arguments: tuple[str, ...], folder: Path) -> tuple[float, float]:
    """Processor time and time on the clock of one run. [s]"""
    for left in folder.iterdir():  # a sheet is not written twice to one name
        left.unlink()
    compiled = {k: v for k, v in os.environ.items() if k != "PYTHONDONTWRITEBYTECODE"}
    before_s, start_s = worked_s(), time.perf_counter()
    done = subprocess.run(
        [sys.executable, *arguments], cwd=folder, env=compiled, capture_output=True, check=False
    )
    assert done.returncode in (0, 1), done.stderr.decode()
    return worked_s() - before_s, time.perf_counter() - start_s


def worked_s() -> float:
    """Processor time of all processes that have ended so far. [s]"""
    used = resource.getrusage(resource.RUSAGE_CHILDREN)
    return used.ru_utime + used.ru_stime


def main(runs: int) -> None:
    """One line for each command: ratios of processor time and of time on the clock."""
    with TemporaryDirectory() as folder:
        for arguments in COMMANDS.values():
            costs((*PLANNER, *arguments), Path(folder))
        timed: dict[str, list[tuple[float, float]]] = {}
        for _ in range(runs):  # in turn, so that a busy minute touches all
            timed.setdefault("unit", []).append(costs(UNIT, Path(folder)))
            for words, arguments in COMMANDS.items():
                took = costs((*PLANNER, *arguments), Path(folder))
                timed.setdefault(words, []).append(took)
    unit = [min(times) for times in zip(*timed.pop("unit"), strict=True)]
    print(f"unit: {1000 * unit[0]:.0f} ms of processor time, {1000 * unit[1]:.0f} ms on the clock")
    for words, times in timed.items():
        ratios = [min(t) / u for t, u in zip(zip(*times, strict=True), unit, strict=True)]
        print(f"{words:24} {ratios[0]:6.1f} processor {ratios[1]:6.1f} clock")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else RUNS)
