"""
What tests look at of shipped configurations and pairs, each computed once in a process.

Configurations, findings, operating points, comparisons, plans; fates of wires and parts.
"""

import os
import pickle
from collections import defaultdict
from functools import cache, lru_cache
from pathlib import Path

from attrs import evolve
from shared_results import shared

from upgrade_planner.checks import checking
from upgrade_planner.checks.causes import every
from upgrade_planner.checks.checking import check
from upgrade_planner.checks.findings import Severity
from upgrade_planner.comparison.comparing import compare
from upgrade_planner.comparison.results import Policy
from upgrade_planner.configuration.composing.digest import digest_of
from upgrade_planner.configuration.files.shipped import shipped_profiles
from upgrade_planner.configuration.loading import load_configuration
from upgrade_planner.configuration.model import TerminalRef
from upgrade_planner.documents.drawings.chart import chart_of
from upgrade_planner.documents.drawings.pages import change_pictures
from upgrade_planner.documents.shared.pdf import worksheet_pdf
from upgrade_planner.documents.worksheet.drawing_pages import drawing_pages
from upgrade_planner.documents.worksheet.sheet import sheet_view
from upgrade_planner.documents.worksheet.title_block import SheetOptions
from upgrade_planner.electrical import sizing
from upgrade_planner.electrical.operating_points import operating_points
from upgrade_planner.kit.prices.price_lines import price_list
from upgrade_planner.planning import plan as planning
from upgrade_planner.planning import stages as staging
from upgrade_planner.planning.plan import plan_upgrade
from upgrade_planner.planning.way_back import way_back

AT_HAND = 200
"""Configurations, or jobs, whose dear results are kept. A number of our own."""

PLANS = 1000
"""Plans that are kept: of generated pairs, too."""

SHEETS = 20
"""PDFs that are kept, some hundred kilobytes each; price lists, too."""


@cache
def loaded(name):
    """A configuration by name or path."""
    return load_configuration(name)


def load_once(name):
    """Stands in for `load_configuration`: reads what is shipped once, and files like another."""
    if name in shipped_profiles("configuration"):
        return loaded(name)
    text = Path(name).read_bytes() if os.path.isfile(name) else b".toml"
    if b".toml" in text:  # it may name other files
        return load_configuration(name)
    return _loaded_like(name, text)


@lru_cache(AT_HAND)
def _loaded_like(name, text):
    return load_configuration(name)


sized_once = lru_cache(AT_HAND)(sizing.sized)
"""Stands in for `sizing.sized`: a configuration is sized once, as it is loaded once."""


def sized(name):
    """A shipped configuration with its automatic sizes."""
    return sized_once(loaded(name))[0]


def _wiring(configuration):
    """What decides what is found in a configuration: not the file that it stands in."""
    return digest_of(evolve(configuration, file="", digest=""))


found_once = lru_cache(AT_HAND)(shared(checking._found, _wiring))
"""Stands in for `_found` of checking: the rules look once through equal configurations."""


def expected_once(readings, before, after):
    """Stands in for `expectations` of plans: the same readings of the same two configurations."""
    return _expected(tuple(readings), before, after)


_expected = lru_cache(AT_HAND)(shared(planning.expectations))


compared_once = lru_cache(PLANS)(planning.compare)
"""Stands in for `compare` of plans."""

planned_once = lru_cache(PLANS)(planning.plan_for)
"""Stands in for `plan_for`: the same comparison is planned once, with all it is then asked for."""


def staged_once(configurations, policy=Policy.REVERSIBLE):
    """Stands in for `staged_job`: the same stages are planned once, for a sheet in any format."""
    return _staged(tuple(configurations), policy)


_staged = lru_cache(AT_HAND)(staging.staged_job)

way_back_once = lru_cache(PLANS)(way_back)
"""The way back of a plan, for tests that look at what it holds."""

drawn_once = lru_cache(AT_HAND)(
    shared(drawing_pages, lambda plan, *paper: (plan.comparison, *paper))
)
"""Stands in for `drawing_pages`: the pictures of one plan, which follows from its comparison."""


charted_once = lru_cache(SHEETS)(shared(chart_of))
"""Stands in for `chart_of`: the chart of one configuration."""

shown_once = shared(change_pictures)
"""Stands in for `change_pictures`: those of one job, for a command that draws them alone."""


def printed_once(html, **settings):
    """Stands in for `worksheet_pdf`: of equal arguments the engine makes equal bytes."""
    return _printed(html, tuple(settings.items()))


def _engine(html, settings):
    return worksheet_pdf(html, **dict(settings))


_printed = lru_cache(SHEETS)(shared(_engine))


def prices_once(*rows_and_style, **how):
    """Stands in for `price_list` of shops: equal rows in equal style are read once."""
    return _prices(pickle.dumps((rows_and_style, how)))


@lru_cache(SHEETS)
def _prices(asked):
    rows_and_style, how = pickle.loads(asked)
    return price_list(*rows_and_style, **how)


def planned(before, after, policy=Policy.REVERSIBLE):
    """The plan of two shipped configurations, with what its readings should show once asked."""
    return _planned(before, after, policy)


@cache
def _planned(before, after, policy):
    return plan_upgrade(sized(before), sized(after), policy)


@lru_cache(SHEETS)
def viewed(before, after, **options):
    """What the sheet of two shipped configurations says."""
    return sheet_view(planned(before, after), SheetOptions(**{"date": "2026-03-01", **options}))


@cache
def compared(before, after):
    """The comparison of two shipped configurations."""
    return compare(sized(before), sized(after))


@cache
def found(name):
    """What is found in a shipped configuration, with what follows from it."""
    return tuple(every(check(sized(name))))


def codes(name, *severities):
    """Codes of the findings of these severities; of all without any."""
    return {f.code for f in found(name) if not severities or f.severity in severities}


def serious(name):
    """Codes of dangers and warnings."""
    return codes(name, Severity.DANGER, Severity.WARNING)


@cache
def points(name):
    """Operating points of a shipped configuration, by the name of their state."""
    return operating_points(sized(name))


def wire_fates(before, after):
    """Dispositions of the wires by id, in words; an id that goes and comes again has two."""
    fates = defaultdict(set)
    for change in compared(before, after).wires:
        fates[change.wire.id].add(str(change.disposition))
    return {name: " ".join(sorted(words)) for name, words in fates.items()}


def part_fates(before, after):
    """Dispositions of the parts by role, in words."""
    return {change.role: str(change.disposition) for change in compared(before, after).parts}


def lost_v(name, start, end, state="loaded"):
    """What is lost between two terminals on the live side. [V]"""
    point = points(name)[state]
    first, last = (point.live_v(TerminalRef(*ref.split("."))) for ref in (start, end))
    return first - last


def assert_fates(fates, expected):
    """The expected ones are as expected; all that differ are named at once."""
    wrong = {
        name: (fates.get(name), wanted)
        for name, wanted in expected.items()
        if fates.get(name) != wanted
    }
    assert not wrong
