"""
Time to solve six states of tree-like wiring of 50, 500 and 5,000 wires, and of one ngspice process.

Run by hand: `python tests/benchmarks/network_growth.py`. Times are the least of several runs, in
processor time, so that other work on the machine counts little; ngspice's includes its start.
"""

import shutil
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path

try:
    import resource
except ImportError:  # not on every system; only for the time of the simulator
    resource = None

sys.path.insert(0, str(Path(__file__).parent.parent / "support"))

from ngspice import netlist
from wiring_trees import STATES, wires_in, wiring

from upgrade_planner.electrical.network import Network, solve
from upgrade_planner.electrical.network.elimination import solver_for

SIZES = ((50, 40), (500, 8), (5000, 3))  # wires, runs
SIMULATOR_RUNS = 20
MS_PER_S = 1000.0


def least_ms(run: Callable[[], object], count: int) -> float:
    """Least processor time of several runs. [ms]"""
    times_s = []
    for _ in range(count):
        start_s = time.process_time()
        run()
        times_s.append(time.process_time() - start_s)
    return MS_PER_S * min(times_s)


def solve_anew(networks: list[Network]) -> None:
    """Without any order of elimination from before."""
    solver_for.cache_clear()
    for network in networks:
        solve(network)


def solve_warm(networks: list[Network], voltages: list) -> None:
    """From earlier voltages and with the orders kept."""
    for network, guess in zip(networks, voltages, strict=True):
        solve(network, guess)


def print_growth() -> None:
    """One line for each size: making the networks, solving them anew, again, and warm."""
    print("six states          make        anew    known topology        warm   [ms]")
    before_ms = None
    for wire_count, runs in SIZES:
        networks = [wiring(wire_count, state) for state in STATES]
        voltages = [solve(network).voltage_v for network in networks]
        make_ms = least_ms(lambda n=wire_count: [wiring(n, state) for state in STATES], runs)
        anew_ms = least_ms(lambda n=networks: solve_anew(n), runs)
        known_ms = least_ms(lambda n=networks: [solve(network) for network in n], runs)
        warm_ms = least_ms(lambda n=networks, v=voltages: solve_warm(n, v), runs)
        ratio = f"   anew x{anew_ms / before_ms:.1f}" if before_ms else ""
        times = f"{make_ms:10.1f} {anew_ms:11.1f} {known_ms:17.1f} {warm_ms:11.1f}"
        print(f"{wires_in(networks[0]):5} wires {times}{ratio}")
        before_ms = anew_ms


def print_simulator() -> None:
    """One ngspice process on one state of the smallest network."""
    program = shutil.which("ngspice")
    if program is None or resource is None:
        print("ngspice: not installed, or its time cannot be told here")
        return
    text = netlist(wiring(SIZES[0][0], STATES[4]))
    processor_ms, wall_ms = [], []
    for _ in range(SIMULATOR_RUNS):
        start_s, before = time.perf_counter(), resource.getrusage(resource.RUSAGE_CHILDREN)
        subprocess.run(  # noqa: PLW1510 (what it prints is not looked at)
            [program, "-b", "/dev/stdin"], input=text, capture_output=True, text=True
        )
        after = resource.getrusage(resource.RUSAGE_CHILDREN)
        wall_ms.append(MS_PER_S * (time.perf_counter() - start_s))
        used_s = after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime
        processor_ms.append(MS_PER_S * used_s)
    least = f"{min(processor_ms):.1f} ms processor, {min(wall_ms):.1f} ms wall"
    print(f"ngspice, one process, one state of {SIZES[0][0]} wires: {least}")


if __name__ == "__main__":
    print_growth()
    print_simulator()
