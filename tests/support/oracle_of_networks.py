"""
The independent simulator (ngspice) asked for the operating points of networks.

Asked for them at once, it gives up at the kinks of two networks in three. Small steps in time lead
it there: every node has a capacitor and is switched on from nothing; what has settled is the
operating point. What lies between is of no account, so the steps may be large (`trtol`), and a step
that is too large is given up soon (`itl4`).
"""

import shutil
import subprocess
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from ngspice import PRINTED_DIGITS, circuit, held_names, own_currents, printed_point

CAPACITANCE = "1u"
SETTLE_S = 1.0
"""The slowest node, a meter of 10 kΩ with 1 µF, settles in 0.1 s. [s]"""

FIRST_S = 1e-4
"""The first step. [s]"""

LONGEST_S = 0.05
"""A step of a second leaves more than a millionth. [s]"""

KEPT_S = 0.999
"""From here on voltages are kept; the last ones are looked at. [s]"""

TOLERANCES = "reltol=1e-7 abstol=1e-12 vntol=1e-9 itl4=15 method=gear trtol=1e5"
SETTLING = f"tran {10 * FIRST_S} {SETTLE_S} {KEPT_S} {LONGEST_S} uic"
POINT = "operating point"

needs_ngspice = pytest.mark.skipif(shutil.which("ngspice") is None, reason="ngspice is missing")


def settled(networks, *, currents=False):
    """What the simulator finds for each network, in one process; currents if they are wanted."""
    wanted = [own_currents(network) if currents else {} for network in networks]
    with TemporaryDirectory() as folder:
        paths = [Path(folder) / f"{number}.cir" for number in range(len(networks))]
        for path, network in zip(paths, networks, strict=True):
            path.write_text(settling(network))
        printed = asked_of_ngspice(_script(paths, wanted))
    _, *texts = printed.split(f"{POINT}\n")
    return [printed_point(*of_one) for of_one in zip(texts, networks, wanted, strict=True)]


def settling(network):
    """The circuit of a network with a capacitor at every node."""
    loads = [f"C{name} {name} 0 {CAPACITANCE}\n" for name in held_names(network)]
    return "".join((circuit(network, metered=False), *loads, f".options {TOLERANCES}\n", ".end\n"))


def _script(paths, wanted):
    """What has the simulator settle one circuit after the other and print each."""
    lines = ["* one after the other", ".control", f"set numdgt={PRINTED_DIGITS}"]
    for path, currents in zip(paths, wanted, strict=True):
        lines += [f"source {path}", SETTLING, f"echo {POINT}", "print line all"]
        lines += [f"print {current}" for current in currents.values()]
        lines += ["remcirc", "destroy all"]
    return "\n".join([*lines, ".endc", ".end", ""])


def asked_of_ngspice(text):
    """What the simulator prints for a text."""
    return subprocess.run(
        ["ngspice", "-b", "/dev/stdin"],
        input=text,
        capture_output=True,
        text=True,
        timeout=120,
        check=False,
    ).stdout


def assert_as_simulated(points):
    """In each state, every node that is joined to the battery has the simulator's voltage."""
    solutions = [point.solution for point in points.values()]
    found = settled([solution.network for solution in solutions])
    differing = {}
    for state, solution, theirs in zip(points, solutions, found, strict=True):
        ours = _joined_v(solution)
        assert ours, state
        for node, expected in ours.items():
            if not is_alike(theirs.voltage_v[node], expected):
                differing[state, node] = (theirs.voltage_v[node], expected)
    assert differing == {}


def is_alike(found, expected):
    """Whether values are the same to a millionth, of themselves or of a volt or ampere."""
    return abs(found - expected) <= max(1e-6, 1e-6 * abs(expected))


def _joined_v(solution):
    return {
        node: volts
        for node, volts in solution.voltage_v.items()
        if node not in solution.loose and node != solution.network.reference
    }
