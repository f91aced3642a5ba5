"""The wheel: built, installed in a clean environment, used from another folder."""

import site
import subprocess
import sys
from importlib.util import find_spec
from pathlib import Path

import pytest
from places import ROOT
from readme_profiles import PUMP, write_profiles


@pytest.fixture(scope="module")
def installed(tmp_path_factory):
    """A fresh environment with only the wheel in it; its dependencies are borrowed."""
    folder = tmp_path_factory.mktemp("wheel")
    _do(
        sys.executable,
        "-m",
        "pip",
        "wheel",
        "--no-deps",
        "--no-build-isolation",
        "-q",
        "-w",
        folder,
        ROOT,
    )
    (wheel,) = folder.glob("*.whl")
    _do(sys.executable, "-m", "venv", "--without-pip", folder / "env")
    python = folder / "env" / "bin" / "python"
    pip = Path(find_spec("pip").origin).parent  # runs as a folder, so that one process will do
    _do(python, pip, "install", "--no-deps", "--no-index", "--no-compile", "-q", wheel)
    packages = next((folder / "env" / "lib").glob("python*")) / "site-packages"
    borrowed = [path for path in site.getsitepackages() if Path(path).is_dir()]
    (packages / "borrowed.pth").write_text("\n".join(borrowed))
    return python


def _do(*command):
    done = subprocess.run(
        [str(word) for word in command], capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, done.stderr
    return done.stdout


def test_wheel_brings_its_profiles_and_templates(installed, tmp_path):
    script = (
        "import upgrade_planner; from upgrade_planner.configuration.files.shipped import *;"
        "print(upgrade_planner.__file__); print(shipped_folder('profiles'));"
        "print(shipped_folder('templates'))"
    )
    lines = subprocess.run(
        [installed, "-c", script], cwd=tmp_path, capture_output=True, text=True, check=True
    ).stdout.splitlines()
    home = str(installed.parent.parent)
    assert all(line.startswith(home) for line in lines), lines


def test_sheet_with_pictures_is_made_from_another_folder(installed, tmp_path):
    """Of the smallest pair, with a shipped system: what is proven is that nothing is missing."""
    command = installed.parent / "upgrade-planner"
    done = subprocess.run(
        [command, "worksheet", *PUMP, "-o", "sheet.pdf"],
        cwd=write_profiles(tmp_path),
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    assert (tmp_path / "sheet.pdf").read_bytes().startswith(b"%PDF")
