"""What is written differently in two configurations leads from one to the other, and says so."""

import copy
from itertools import pairwise

from as_data import data_of
from every_case import every_case
from pair_facts import loaded
from shipped_pairs import SHIPPED_PAIRS

from upgrade_planner.comparison.structure import structural_changes, structure_of


def applied(structure, changes):
    """A structure with every change carried out."""
    made = copy.deepcopy(structure)
    for change in changes:
        table = made
        for key in change.path[:-1]:
            table = table[key]
        if change.after is None:
            del table[change.path[-1]]
        else:
            table[change.path[-1]] = change.after
    return made


@every_case(("before", "after"), SHIPPED_PAIRS[:5])
def test_changes_carried_out_on_before_give_after(before, after):
    before, after = loaded(before), loaded(after)
    changes = structural_changes(before, after)
    assert changes
    assert applied(structure_of(before), changes) == structure_of(after)
    assert all(one.path < other.path for one, other in pairwise(changes))


def test_configuration_is_written_as_itself():
    assert structural_changes(loaded("van_upgraded"), loaded("van_upgraded")) == ()


def test_paths_name_wire_and_key():
    changes = structural_changes(loaded("van_original_ballast"), loaded("van_upgraded"))
    found = {change.path: change for change in changes}
    size = found["wires", "charge-output", "size"]
    assert (size.before, size.after) == ("12 SAE", "6 SAE")
    assert found["parts", "ballast"].after is None
    assert found["parts", "ballast"].before["kind"] == "resistor"


def test_comparison_as_data_holds_them(tmp_path):
    from in_process import run

    done = run("compare", "van_original_ballast", "van_upgraded", "--json", cwd=tmp_path)
    rows = data_of(done.stdout)["configuration_differences"]
    assert {
        "path": ["wires", "charge-output", "size"],
        "before": "12 SAE",
        "after": "6 SAE",
    } in rows


def test_record_says_what_the_form_changed(tmp_path):
    from in_process import run

    run("show", "van_original_ballast", "-o", "wires.csv", cwd=tmp_path)
    wires = (tmp_path / "wires.csv").read_text(encoding="utf-8-sig")
    (tmp_path / "wires.csv").write_text(wires.replace("12 SAE", "14 SAE", 1))
    done = run("record", "van_original_ballast", "wires.csv", "-o", "mine.toml", cwd=tmp_path)
    assert done.returncode == 0
    assert "Otherwise than in van_original_ballast:" in done.stdout
    assert "size: 12 SAE, now 14 SAE" in done.stdout
