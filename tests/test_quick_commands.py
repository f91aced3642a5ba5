"""What commands must not do: import what they do not need, solve what is known."""

import subprocess
import sys
from datetime import date

from every_case import every_case
from readme_profiles import PUMP, write_profiles

from upgrade_planner.configuration.loading import load_configuration
from upgrade_planner.documents.worksheet import sheet
from upgrade_planner.electrical import operating_points
from upgrade_planner.electrical.network import varying
from upgrade_planner.jobs import worksheet
from upgrade_planner.planning.plan import plan_upgrade

SLOW = (
    "pydantic",
    "networkx",
    "deepdiff",
    "jinja2",
    "weasyprint",
    "openpyxl",
    "pypdf",
    "segno",
    "babel",
)
PLANNING = ("upgrade_planner.planning", "upgrade_planner.comparison", "upgrade_planner.kit")
READING = ("cattrs", "upgrade_planner.configuration.model", "upgrade_planner.electrical")
CLASSES = ("attr", "attrs")
PAGES = (
    "upgrade_planner.documents.drawings",
    "upgrade_planner.documents.worksheet.sheet",
    "upgrade_planner.documents.worksheet.stage_pages",
    "upgrade_planner.documents.worksheet.views",
)
OTHER_JOBS = ("upgrade_planner.inspection", "upgrade_planner.targets", "upgrade_planner.quote")
VALUES = ("upgrade_planner.planning", "upgrade_planner.planning.fact_values")  # words know them


def imported_by(*arguments):
    """Names of the modules that a command has imported when it ends."""
    code = (
        "import sys, io, contextlib\n"
        "from upgrade_planner.cli import main\n"
        f"sys.argv = ['upgrade-planner', *{arguments!r}]\n"
        "try:\n"
        "    with contextlib.redirect_stdout(io.StringIO()):\n"
        "        main()\n"
        "except SystemExit as end:\n"
        "    assert end.code in (None, 0, 1, 2), end.code\n"
        "print('\\n'.join(sys.modules))\n"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    return done.stdout.split()


@every_case(
    ("arguments", "unwanted"),
    [
        (("--help",), (*SLOW, *PLANNING, *READING, *CLASSES, "rich.console", "tomllib")),
        (("list",), (*SLOW, *PLANNING, *READING, *CLASSES)),
        (("check", "van_upgraded"), (*SLOW, *PLANNING)),
        (("check", "no_such_profile"), (*SLOW, *PLANNING, "upgrade_planner.library")),
    ],
)
def test_commands_import_only_what_they_need(arguments, unwanted):
    roots = tuple(f"{name}." for name in unwanted)
    imported = set(imported_by(*arguments)).difference(VALUES)
    assert [name for name in imported if name in unwanted or name.startswith(roots)] == []


def test_plan_of_the_demo_takes_few_searches(monkeypatch):
    solved = {"states": 0, "bases": 0, "searches": 0}

    def count(which, module, name):
        solve = getattr(module, name)

        def counted(*arguments):
            solved[which] += 1
            return solve(*arguments)

        monkeypatch.setattr(module, name, counted)

    operating_points.operating_point.cache_clear()
    count("states", operating_points, "solution_of")
    count("bases", varying, "NodalEquations")
    count("searches", varying, "solution_of")
    plan = plan_upgrade(*map(load_configuration, ("van_original_resistance", "van_upgraded")))
    assert plan.expected
    assert all(findings is not None for findings in (plan.findings, plan.findings_before))
    assert solved["states"] <= 28  # 14 states of both configurations
    assert solved["bases"] <= 14  # networks made for readings: one for each state of both
    # each from a base: much changed, or part of it cut off; as many for each state as twelve had
    assert solved["searches"] * 12 <= 145 * solved["bases"]


def test_plan_as_data_imports_no_pages(tmp_path):
    target = tmp_path / "plan.json"
    write_profiles(tmp_path)
    pair = (str(tmp_path / name) for name in PUMP)
    imported = imported_by("worksheet", *pair, "-o", str(target))
    assert target.is_file()
    unwanted = (*SLOW, *PAGES, *OTHER_JOBS)
    assert [name for name in imported if name.startswith(unwanted)] == []


def test_plan_as_data_lays_out_no_sheet(monkeypatch, tmp_path):
    monkeypatch.setattr(sheet, "sheet_view", None)
    target = tmp_path / "plan.json"
    request = worksheet.SheetRequest(
        before="van_original_resistance",
        after="van_upgraded",
        target=target,
        issued=date(2026, 1, 2),
    )
    worksheet.worksheet(request)
    assert target.is_file()
