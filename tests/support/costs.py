"""
What the tests cost in processor time: `pytest --costs` prints folders, then the dearest tests.

Processor time of the process and of those it starts, so that other work on the machine does not
count. A fixture of the session counts for the test that asks first.
"""

import os
from collections import Counter, defaultdict
from pathlib import PurePath

import pytest

SHOWN = 40


def spent_s():
    """Processor time so far, of this process and of the finished ones that it started. [s]"""
    return sum(os.times()[:4])


class Costs:
    """Measures each phase of a test where it runs, adds up where the report is printed."""

    def __init__(self):
        self.until = spent_s()
        self.of_test = Counter()

    @pytest.hookimpl(wrapper=True)
    def pytest_runtest_protocol(self, item):
        self.until = spent_s()
        return (yield)

    @pytest.hookimpl(wrapper=True)
    def pytest_runtest_makereport(self, item):
        report = yield
        now = spent_s()
        report.spent_s, self.until = now - self.until, now
        return report

    def pytest_runtest_logreport(self, report):
        self.of_test[report.nodeid] += report.spent_s

    def pytest_terminal_summary(self, terminalreporter):
        folders, counts = defaultdict(float), Counter()
        for name, seconds in self.of_test.items():
            folder = str(PurePath(name.partition("::")[0]).parent)
            folders[folder] += seconds
            counts[folder] += 1
        say = terminalreporter.write_line
        terminalreporter.section(f"processor time {sum(folders.values()):.0f} s")
        for folder, seconds in sorted(folders.items(), key=lambda pair: -pair[1]):
            say(f"{seconds:8.1f} s  {counts[folder]:5} tests  {folder}")
        for name, seconds in self.of_test.most_common(SHOWN):
            say(f"{seconds:8.1f} s  {name}")
