"""The independent simulator (ngspice) asked for the operating point of a network."""

import re
import shutil
import subprocess

import pytest
from ngspice import netlist

CAPACITANCE = "1u"
SETTLE = "1"  # [s] the slowest node, a meter of 10 kΩ with 1 µF, settles in 0.1 s
TRANSIENT = ".options reltol=1e-7 abstol=1e-12 vntol=1e-9 itl4=200 method=gear"

needs_ngspice = pytest.mark.skipif(shutil.which("ngspice") is None, reason="ngspice is missing")


def simulated(network):
    """Node voltages of a network, switched on from nothing and settled, by node name. [V]"""
    head = re.sub(
        r"^\.options.*$", TRANSIENT, netlist(network).partition(".control")[0], flags=re.M
    )
    names = re.findall(r"^Rpull(n\d+) ", head, re.MULTILINE)
    lines = [f"C{name} {name} 0 {CAPACITANCE}" for name in names]
    lines += [".control", "set numdgt=15", f"tran {SETTLE} {SETTLE} 0 uic"]
    lines += ["let last=length(time)-1"]
    lines += [f"let end{name}=v({name})[last]\nprint end{name}" for name in names]
    text = head + "\n".join([*lines, ".endc", ".end", ""])
    ran = subprocess.run(
        ["ngspice", "-b", "/dev/stdin"],
        input=text,
        capture_output=True,
        text=True,
        timeout=60,
        check=False,
    )
    named = dict(re.findall(r"^\* (n\d+) = (.*)$", text, re.MULTILINE))
    printed = re.findall(r"^end(n\d+) = (\S+)$", ran.stdout, re.MULTILINE)
    return {named[short]: float(value) for short, value in printed}


def assert_as_simulated(solution):
    """Every node that is joined to the battery has the simulator's voltage."""
    found = simulated(solution.network)
    ours = {
        str(node): volts
        for node, volts in solution.voltage_v.items()
        if node not in solution.loose and node != solution.network.reference
    }
    assert ours
    assert ours.keys() <= found.keys()
    for node, expected in ours.items():
        assert found[node] == pytest.approx(expected, rel=1e-6, abs=1e-6), node
