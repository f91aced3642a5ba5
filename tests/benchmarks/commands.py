"""
What commands cost, as ratios to the import of the command-line library in the same run.

Run by hand: `python tests/benchmarks/commands.py [RUNS]`. Medians of processor time and of time on
the clock; where the machine does other work, the first is the one to look at.
"""

import os
import subprocess
import sys
import time
from pathlib import Path
from statistics import median
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
}


def costs(arguments: tuple[str, ...], folder: Path) -> tuple[float, float]:
    """Processor time and time on the clock of one run. [s]"""
    before, start_s = os.times(), time.perf_counter()
    subprocess.run([sys.executable, *arguments], cwd=folder, capture_output=True, check=False)
    after, end_s = os.times(), time.perf_counter()
    worked_s = after.children_user - before.children_user
    return worked_s + after.children_system - before.children_system, end_s - start_s


def main(runs: int) -> None:
    """One line for each command: ratios of processor time and of time on the clock."""
    with TemporaryDirectory() as folder:
        timed: dict[str, list[tuple[float, float]]] = {}
        for _ in range(runs):  # in turn, so that a busy minute touches all
            timed.setdefault("unit", []).append(costs(UNIT, Path(folder)))
            for words, arguments in COMMANDS.items():
                took = costs((*PLANNER, *arguments), Path(folder))
                timed.setdefault(words, []).append(took)
    unit = [median(times) for times in zip(*timed.pop("unit"), strict=True)]
    print(f"unit: {1000 * unit[0]:.0f} ms of processor time, {1000 * unit[1]:.0f} ms on the clock")
    for words, times in timed.items():
        ratios = [median(t) / u for t, u in zip(zip(*times, strict=True), unit, strict=True)]
        print(f"{words:24} {ratios[0]:6.1f} processor {ratios[1]:6.1f} clock")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else RUNS)
