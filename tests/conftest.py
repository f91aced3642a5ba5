"""Shared by all tests: where generated examples and helpers live, how hypothesis behaves."""

import sys
from pathlib import Path

import pytest
from hypothesis import HealthCheck, settings

sys.path.insert(0, str(Path(__file__).parent))

settings.register_profile(
    "default",
    deadline=None,
    derandomize=True,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large],
)
settings.load_profile("default")


@pytest.fixture(scope="session")
def load():
    """Loads a shipped or test configuration once."""
    from functools import cache

    from upgrade_planner.configuration.reading import load_configuration

    return cache(load_configuration)
