"""The same job gives the same bytes: in another process, under another hash seed and zone."""

import in_process
import own_process
import pytest
from readme_profiles import PUMP, write_profiles

LARGE = ("van_original_resistance", "van_upgraded")
STAGES = (
    "six_volt_tractor_original",
    "six_volt_tractor_trigger",
    "six_volt_tractor_twelve_electronic",
)
"""Wires of its second stage are fitted ahead in the first."""

CALLS = (
    *(("worksheet", *PUMP, "-o", f"drawn.{suffix}") for suffix in ("pdf", "html", "json", "csv")),
    ("worksheet", *LARGE, "--no-drawings", "-o", "sheet.html"),
    ("worksheet", *STAGES, "-o", "stage.csv"),
    ("survey", PUMP[0], "-o", "form.pdf"),
)
WRITTEN = [
    *(f"drawn.{suffix}" for suffix in ("csv", "html", "json", "pdf")),
    "form.pdf",
    "sheet.html",
    "stage_1.csv",
    "stage_2.csv",
]


@pytest.fixture(scope="module")
def here(tmp_path_factory):
    folder = write_profiles(tmp_path_factory.mktemp("here"))
    for call in CALLS:
        done = in_process.run(*call, cwd=folder)
        assert done.returncode == 0, done.stderr
    return folder


@pytest.fixture(scope="module")
def elsewhere(tmp_path_factory):
    folder = write_profiles(tmp_path_factory.mktemp("elsewhere"))
    done = own_process.run_all(CALLS, cwd=folder, PYTHONHASHSEED="1", TZ="XYZ1")
    assert done.returncode == 0, done.stderr
    return folder


@pytest.mark.parametrize("name", WRITTEN)
def test_two_runs_are_the_same_to_the_byte(here, elsewhere, name):
    assert (elsewhere / name).read_bytes() == (here / name).read_bytes()


def test_wires_are_fitted_ahead_in_the_stages(here):
    assert "Fitted in the size of stage 2." in (here / "stage_1.csv").read_text("utf-8-sig")
