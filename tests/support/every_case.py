"""
Many small cases in one test, for a test costs some milliseconds before it looks at anything.

Stands where `pytest.mark.parametrize` would; that is for cases that take seconds each, so that
workers share them.
"""

import inspect
from functools import wraps
from pathlib import Path

import pytest
from building import Garage


def every_case(names, cases):
    """
    One test of all `cases`: each is tried, and all that fail are told at once, with their case.

    Names and cases as `parametrize` takes them; several of these above a test are all their
    combinations. Fixtures are those of the one test, but each case has a folder and a garage of
    its own.
    """
    names = [name.strip() for name in names.split(",")] if isinstance(names, str) else list(names)
    told = [dict(zip(names, _values_of(case, len(names)), strict=True)) for case in cases]
    assert told, f"no case of {names}"

    def of_all(test):
        @wraps(test)
        def tried(*own, **fixtures):
            failures = []
            for number, case in enumerate(told):
                try:
                    test(*own, **_for_one(fixtures, str(number)), **case)
                except (Exception, pytest.fail.Exception) as failure:
                    failure.add_note(f"case {number}: {_shown(case)}")
                    failures.append(failure)
            if failures:
                raise BaseExceptionGroup(f"{len(failures)} of {len(told)} cases", failures)

        asked = inspect.signature(test)
        others = [each for name, each in asked.parameters.items() if name not in names]
        tried.__signature__ = asked.replace(parameters=others)
        return tried

    return of_all


def _values_of(case, number):
    if hasattr(case, "marks"):  # from pytest.param
        return case.values
    return case if number > 1 else [case]


def _shown(case):
    return ", ".join(f"{name} = {value!r:.200}" for name, value in case.items())


def _for_one(fixtures, name):
    """The fixtures of a test for one of its cases."""
    own = dict(fixtures)
    if "tmp_path" in own:
        own["tmp_path"] = _folder_in(own["tmp_path"], name)
    if "garage" in own:
        own["garage"] = Garage(own.get("tmp_path") or _folder_in(own["garage"].folder, name))
    return own


def _folder_in(folder: Path, name):
    inner = folder / name
    inner.mkdir()
    return inner
