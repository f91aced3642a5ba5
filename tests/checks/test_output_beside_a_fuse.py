"""A machine and the battery on the same side of a fuse: its output does not pass it."""

from every_case import every_case
from pair_facts import sized

from upgrade_planner.checks.causes import every
from upgrade_planner.checks.checking import check
from upgrade_planner.configuration.edits import Rejoin, edited
from upgrade_planner.configuration.model import TerminalRef

ON_THE_WAY = ("CHG-FUSE", "CHG-AMMETER", "PROT-OUTPUT-FUSE")


def blamed(name, fuse, terminal):
    """Codes that blame a part for the output once the charge wire ends at a terminal of it."""
    to = Rejoin("charge-output", at_start=False, to=TerminalRef(fuse, terminal))
    findings = every(check(edited(sized(name), (to,))))
    return {f.code for f in findings if f.code in ON_THE_WAY and fuse in f.where}


@every_case(
    ("name", "fuse"),
    [
        ("saloon_negative_alternator", "indicator_fuse"),
        ("saloon_negative_alternator", "radio_fuse"),
        ("rear_alternator", "start_fuse"),
    ],
)
def test_only_a_fuse_that_the_output_passes_is_blamed(name, fuse):
    assert blamed(name, fuse, "in") == set()
    assert "CHG-FUSE" in blamed(name, fuse, "out")


def test_an_ammeter_is_passed_from_its_far_side_alone():
    assert blamed("pickup_original", "ammeter", "battery_side") == set()
    assert "CHG-AMMETER" in {f.code for f in every(check(sized("pickup_original")))}
