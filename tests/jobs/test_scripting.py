"""What a script imports from the package itself."""

import doctest
import re
import subprocess
import sys
from datetime import date

import in_process
import pytest
from places import ROOT

import upgrade_planner
from upgrade_planner import PlannerError, check, compare, load, plan, readings_of, write_worksheet

PAIR = ("van_original_ballast", "van_upgraded")


def test_every_export_is_there():
    for name in upgrade_planner.__all__:
        assert getattr(upgrade_planner, name) is not None
        assert name in dir(upgrade_planner)
    with pytest.raises(AttributeError, match="no attribute 'plans'"):
        upgrade_planner.plans  # noqa: B018


def test_exports_cost_nothing_until_they_are_used(tmp_path):
    code = "import sys, upgrade_planner; print(sum('upgrade_planner' in m for m in sys.modules))"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "1"


def test_calls_agree_with_each_other(tmp_path):
    before, after = (load(name) for name in PAIR)
    made = plan(*PAIR)
    assert made.comparison.before.digest == before.digest
    assert made.comparison.after.digest == after.digest
    assert [one.disposition for one in compare(*PAIR).comparison.wires] == [
        one.disposition for one in made.comparison.wires
    ]
    assert check(PAIR[1]).findings == made.findings
    assert (
        list(readings_of(PAIR[1], "key_on").points) == ["key_on"]
        or readings_of(PAIR[1], "key_on").points
    )


def test_sheet_is_that_of_the_command(tmp_path):
    made = write_worksheet(*PAIR, tmp_path / "a.json", issued=date(2026, 3, 1), policy="clean")
    in_process.run(
        "worksheet",
        *PAIR,
        "-o",
        "b.json",
        "--date",
        "2026-03-01",
        "--policy",
        "clean",
        cwd=tmp_path,
    )
    assert (tmp_path / "a.json").read_bytes() == (tmp_path / "b.json").read_bytes()
    assert made.check_code


def test_faults_are_one_kind_of_error(tmp_path):
    for call in (lambda: load("van_upgradde"), lambda: plan("van_as_found", "row_tractor")):
        with pytest.raises(PlannerError, match="expected"):
            call()


def test_readme_paragraph_runs():
    (text,) = re.findall(r"```python\n(.*?)```", (ROOT / "README.md").read_text("utf-8"), re.DOTALL)
    parsed = doctest.DocTestParser().get_doctest(text, {}, "README", "README.md", 0)
    assert len(parsed.examples) > 3
    result = doctest.DocTestRunner(optionflags=doctest.ELLIPSIS).run(parsed)
    assert result.failed == 0


def test_recipes_of_the_guide_run(run, tmp_path, monkeypatch, capsys):
    guide = (ROOT / "DEVELOPERS.md").read_text("utf-8")
    section = guide.partition("## Three recipes for scripts")[2].partition("\n## ")[0]
    report, many, prices = re.findall(r"```python\n(.*?)```", section, re.DOTALL)
    (tmp_path / "cars").mkdir()
    run("show", "van_as_found", "-o", "cars/a.toml", cwd=tmp_path)
    (tmp_path / "cars" / "b.toml").write_text("[configuration]\n", "utf-8")
    run("shop", "-o", "my_shop", cwd=tmp_path)
    monkeypatch.chdir(tmp_path)
    exec(report, {})
    assert re.search(r"charge-output +resize +12\sSAE to 6\sSAE", capsys.readouterr().out)
    exec(many, {})
    told = capsys.readouterr().out
    assert "a.toml DROP-HOT" in told
    assert "b.toml:1" in told
    exec(prices, {"price_of": lambda number: "1.00"})
    done = run("kit", *PAIR, "--shop", "my_shop", "-o", "k.json", cwd=tmp_path)
    assert done.returncode == 0, done.stderr
