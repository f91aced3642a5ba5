"""Shared by all tests: what is made once, how hypothesis behaves."""

import gc
import os
import sys

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis.strategies import none

sys.dont_write_bytecode = False
os.environ.pop("PYTHONDONTWRITEBYTECODE", None)
"""Else each worker, and each process that a test starts, compiles the package anew."""

gc.set_threshold(500_000, 5, 10)
"""Also while tests are collected: most of what is made then stays."""

settings.register_profile(
    "default",
    deadline=None,
    derandomize=True,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large],
)
settings.register_profile(
    "long", settings.get_profile("default"), derandomize=False, max_examples=1000
)
settings.load_profile("default")


@pytest.fixture(scope="session", autouse=True)
def at_hand(tmp_path_factory):
    """
    What is dear and always the same is computed once, also where the program asks for it.

    That is: what is shipped; sizes of a configuration, what the rules find in it; the plan of two
    configurations, what its readings should show, its pictures; a PDF of equal HTML, a price list
    of equal rows. A test of one of these calls `load_configuration`, `sized`, `plan_for`,
    `expectations`, `drawing_pages`, `price_list` or `worksheet_pdf` itself, or uses `engine`.
    Findings, ranges, pictures and PDFs, the dearest, are shared by the workers of a run.
    """
    import shared_results
    from pair_facts import (
        charted_once,
        compared_once,
        drawn_once,
        expected_once,
        found_once,
        load_once,
        planned_once,
        prices_once,
        printed_once,
        shown_once,
        sized_once,
        staged_once,
    )

    from upgrade_planner.checks import checking
    from upgrade_planner.configuration import loading
    from upgrade_planner.documents.shared import pdf
    from upgrade_planner.documents.worksheet import drawing_book, drawing_pages
    from upgrade_planner.electrical import sizing
    from upgrade_planner.kit.prices import shop_files
    from upgrade_planner.planning import plan, stages

    with pytest.MonkeyPatch.context() as patch:
        own = tmp_path_factory.getbasetemp()  # that of a worker lies in that of the run
        is_worker = "PYTEST_XDIST_WORKER" in os.environ
        patch.setattr(shared_results, "folder", own.parent if is_worker else own)
        patch.setattr(checking, "_found", found_once)
        patch.setattr(loading, "load_configuration", load_once)
        patch.setattr(sizing, "sized", sized_once)
        patch.setattr(plan, "compare", compared_once)
        patch.setattr(plan, "plan_for", planned_once)
        patch.setattr(plan, "expectations", expected_once)
        patch.setattr(stages, "staged_job", staged_once)
        patch.setattr(shop_files, "price_list", prices_once)
        patch.setattr(pdf, "worksheet_pdf", printed_once)
        patch.setattr(drawing_pages, "drawing_pages", drawn_once)
        patch.setattr(drawing_book, "drawing_pages", drawn_once)
        patch.setattr(drawing_book, "chart_of", charted_once)
        patch.setattr(drawing_book, "change_pictures", shown_once)
        yield


@pytest.fixture(scope="session")
def load():
    """Loads a shipped or test configuration once."""
    from pair_facts import loaded

    return loaded


@pytest.fixture
def engine(monkeypatch):
    """The PDF engine at work for every page, for tests of its bytes."""
    from pair_facts import worksheet_pdf

    from upgrade_planner.documents.shared import pdf

    monkeypatch.setattr(pdf, "worksheet_pdf", worksheet_pdf)


@pytest.fixture
def garage(tmp_path):
    """The files of a small vehicle, to be spoilt."""
    from building import Garage

    return Garage(tmp_path)


@pytest.fixture
def run(monkeypatch):
    """Calls the program in this process over a library of a few shipped configurations."""
    from in_process import with_few

    return with_few(monkeypatch)


def pytest_collection_modifyitems(items):
    """Workers begin with what costs most; a run in one process keeps the order of the files."""
    from dear_first import dear_first

    workers = int(os.environ.get("PYTEST_XDIST_WORKER_COUNT", "1"))
    if workers > 1:
        items[:] = dear_first(items, workers)


def pytest_collection_finish():
    """
    Spares the collector of garbage what stays anyway: modules, tests, tables.

    Hypothesis has it look through all there is when its first test begins; so that begins here.
    """
    gc.collect()
    gc.freeze()
    given(none())(lambda nothing: None)()


def pytest_sessionfinish():
    """Looks for garbage once; pytest then looks ten times more through all that is not frozen."""
    gc.collect()
    gc.freeze()


def pytest_addoption(parser):
    parser.addoption("--costs", action="store_true", help="print processor time by folder and test")


def pytest_configure(config):
    if config.getoption("--costs"):
        from costs import Costs

        config.pluginmanager.register(Costs())
