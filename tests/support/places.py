"""Where the tests keep files that they read."""

from pathlib import Path

TESTS = Path(__file__).parents[1]
ROOT = TESTS.parent
GOLDEN = TESTS / "golden"
PROFILES = TESTS / "profiles"
REFERENCE = TESTS / "reference"
SUPPORT = TESTS / "support"
