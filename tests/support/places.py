"""Where the tests keep files that they read."""

from pathlib import Path

TESTS = Path(__file__).parents[1]
ROOT = TESTS.parent
GOLDEN = TESTS / "golden"
PROFILES = TESTS / "profiles"
REFERENCE = TESTS / "reference"
SUPPORT = TESTS / "support"

SMALL_VAN = str(ROOT / "tests" / "profiles" / "van_without_lamps.toml")
"""The van with half of its wires, where a form is looked at and size is no matter."""
