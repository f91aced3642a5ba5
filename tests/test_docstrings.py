"""Examples in docstrings of the package give what they say."""

import doctest
from importlib import import_module

from places import ROOT

PACKAGE = ROOT / "upgrade_planner"
MODULES = [
    ".".join(path.relative_to(ROOT).with_suffix("").parts)
    for path in sorted(PACKAGE.rglob("*.py"))
    if ">>>" in path.read_text(encoding="utf-8")
]


def test_examples_give_what_they_say():
    """What an example gave instead is printed."""
    tried = {name: doctest.testmod(import_module(name)) for name in MODULES}
    assert sum(result.attempted for result in tried.values()) > 100
    assert not [name for name, result in tried.items() if result.failed]
