"""A configuration with its remedies carried out has nothing left that they could take away."""

import pytest

from upgrade_planner.checks.findings import Severity
from upgrade_planner.configuration.loading import load_configuration
from upgrade_planner.jobs.check import mend
from upgrade_planner.targets.settling import grave

CAR = "saloon_original"


@pytest.fixture(scope="module")
def file(tmp_path_factory):
    path = tmp_path_factory.mktemp("mended") / "mended.toml"
    assert mend(CAR, path) == ()
    return path


def test_dangers_and_warnings_go(file):
    assert grave(load_configuration(CAR)) != ()
    assert grave(load_configuration(str(file))) == ()


def test_each_line_says_why(file):
    lines = file.read_text(encoding="utf-8").splitlines()
    entries = [line for line in lines if line.startswith("  {")]
    assert entries
    assert all("# " in line for line in entries)


def test_what_nobody_can_decide_is_left(tmp_path):
    left = mend("van_as_found", tmp_path / "van.toml")
    assert left
    assert all(f.severity in (Severity.DANGER, Severity.WARNING) for f in left)
