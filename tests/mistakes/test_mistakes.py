"""Plants every known mistake in every configuration it fits: it must be found, and named."""

from importlib import import_module
from pathlib import Path

import pytest
from planting import planted
from us_words import metric_figures

from upgrade_planner.checks.checking import check
from upgrade_planner.documents.words.findings import finding_words

MODULES = sorted(path.stem for path in Path(__file__).parent.glob("*_mistakes.py"))
MODULES.remove("test_mistakes")
PLANTED = [
    (mistake, base)
    for name in MODULES
    for mistake in import_module(name).MISTAKES
    for base in mistake.bases
]


@pytest.fixture(scope="module")
def score():
    """Counts what was found; printed when the last mistake has been tried (pytest -s)."""
    found: list[bool] = []
    yield found
    print(f"\n{sum(found)} of {len(found)} planted mistakes found and named")


@pytest.fixture(scope="module")
def findings_before(load):
    known: dict[str, set[tuple[str, tuple[str, ...]]]] = {}

    def of(base):
        if base not in known:
            known[base] = {(f.code, f.where) for f in check(load(base))}
        return known[base]

    return of


def shortcomings(mistake, new):
    """What the new findings fail to say of a mistake."""
    missing = [code for code in mistake.codes if code not in {f.code for f in new}]
    where = {name for f in new if f.code in mistake.codes for name in f.where}
    where |= {name.partition(".")[0] for name in where}
    return missing + [name for name in mistake.names if name not in where]


@pytest.mark.parametrize(
    ("mistake", "base"), PLANTED, ids=[f"{mistake.id}-{base}" for mistake, base in PLANTED]
)
def test_planted_mistake_is_found_and_named(mistake, base, tmp_path, findings_before, score):
    before = findings_before(base)
    findings = check(planted(mistake, base, tmp_path))
    new = [f for f in findings if (f.code, f.where) not in before]
    missing = shortcomings(mistake, new)
    score.append(not missing)
    assert not missing, [(f.code, f.where) for f in new]
    for words in (finding_words(f, "us") for f in new):
        assert not metric_figures(f"{words.title} {words.what} {words.remedy}")


def test_ids_are_unique():
    ids = [(mistake.id, base) for mistake, base in PLANTED]
    assert len(set(ids)) == len(ids)
