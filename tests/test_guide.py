"""Every module and data file that the contributor guide names is there."""

import re

import pytest
from places import ROOT

PACKAGE = ROOT / "upgrade_planner"
ROOMS = sorted(path.name for path in PACKAGE.iterdir() if path.is_dir())
NAMED = re.compile(rf"`((?:{'|'.join(ROOMS)})/[\w./]+)`")
GUIDE = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")


def exists(name):
    """A folder, a file, a module, or a name in a module."""
    path = PACKAGE / name.rstrip("/.")
    if path.exists() or path.with_suffix(".py").exists():
        return True
    module = path.with_suffix(".py")
    return module.exists() and re.search(
        rf"^(?:class |def )?{re.escape(path.suffix[1:])}\b", module.read_text("utf-8"), re.MULTILINE
    )


@pytest.mark.parametrize("name", sorted({n for n in NAMED.findall(GUIDE) if "NAME" not in n}))
def test_what_the_guide_names_is_there(name):
    assert exists(name), name
