"""What a table of expected dispositions is held against; the tables are written from the trade."""

from collections import defaultdict

from upgrade_planner.comparison.comparing import compare
from upgrade_planner.comparison.part_changes import PartDisposition
from upgrade_planner.comparison.wire_changes import Disposition

KEEP, REMOVE, ADD = Disposition.KEEP, Disposition.REMOVE, Disposition.ADD
RESIZE, MOVE, CAP_OFF = Disposition.RESIZE, Disposition.MOVE, Disposition.CAP_OFF
RENEW = frozenset({ADD, CAP_OFF})
"""A new wire takes the place of one that stays, dead, in its loom."""
EXCHANGE = frozenset({ADD, REMOVE})
"""A new wire takes the place of one that comes out."""

PART = PartDisposition


def wire_dispositions(before, after):
    """All that happens under each wire id: old and new wire may share one."""
    found = defaultdict(set)
    for change in compare(before, after).wires:
        for wire in {w.id: w for w in change.wires}.values():
            found[wire.id].add(change.disposition)
    return {wire_id: frozenset(all_of_it) for wire_id, all_of_it in found.items()}


def assert_wires(load, before, after, expected):
    """Every wire of a table of ids fares as the table says."""
    found = wire_dispositions(load(before), load(after))
    wanted = {
        wire_id: what if isinstance(what, frozenset) else frozenset({what})
        for what, ids in expected.items()
        for wire_id in ids.split()
    }
    _assert_same(found, wanted)


def assert_parts(load, before, after, expected):
    """Every part of a table of roles fares as the table says."""
    found = {c.role: c.disposition for c in compare(load(before), load(after)).parts}
    wanted = {role: what for what, roles in expected.items() for role in roles.split()}
    _assert_same(found, wanted)


def _assert_same(found, wanted):
    wrong = {
        name: (found.get(name), what) for name, what in wanted.items() if found.get(name) != what
    }
    assert not wrong, f"found, wanted: {wrong}"


def codes_at(findings, severity):
    """Codes of the findings of one severity, each with all places that it names."""
    places = defaultdict(set)
    for finding in findings:
        if finding.severity is severity:
            places[finding.code] |= set(finding.where)
    return places
