"""Plants every known mistake in every configuration it fits: it must be found, and named."""

from importlib import import_module
from pathlib import Path

import pytest
from every_case import every_case
from odd_numbers import odd_numbers, told_alike
from planting import planted
from us_words import metric_figures

from upgrade_planner.checks.causes import every
from upgrade_planner.checks.checking import check
from upgrade_planner.checks.findings import Severity
from upgrade_planner.configuration.edits import edited
from upgrade_planner.documents.words.findings import finding_words

MODULES = sorted(path.stem for path in Path(__file__).parent.glob("*_mistakes.py"))
MODULES.remove("test_mistakes")
MISTAKES = [mistake for name in MODULES for mistake in import_module(name).MISTAKES]

MOST = 3
"""Findings above a note that one mistake may raise: who reads more loses the cause."""

NOTE = Severity.NOTE

GRAVITY = tuple(Severity)


KINDS = {
    mistake.id: name.removesuffix("_mistakes").replace("_", " ")
    for name in MODULES
    for mistake in import_module(name).MISTAKES
}


@pytest.fixture(scope="module")
def score():
    """Counts what was found, by vehicle and kind; printed after the last mistake (pytest -s)."""
    found: dict[tuple[str, str], list[int]] = {}
    yield found
    for place, title in enumerate(("vehicle", "kind")):
        for name in sorted({key[place] for key in found}):
            told = [n for key, several in found.items() if key[place] == name for n in several]
            missed = told.count(MISSED)
            print(f"\n{title} {name}: {len(told) - missed} of {len(told)}, at most {max(told)}")


MISSED = -1


@pytest.fixture(scope="module")
def findings_before(load):
    known: dict[str, set[tuple[str, tuple[str, ...]]]] = {}

    def of(base):
        if base not in known:
            known[base] = {(f.code, f.where) for f in every(check(load(base)))}
        return known[base]

    return of


def names_in(findings):
    """Wires, terminals and parts that findings point at, with what follows from them."""
    where = {name for finding in every(findings) for name in finding.where}
    return where | {name.partition(".")[0] for name in where}


def shortcomings(mistake, new):
    """What the new findings fail to say of a mistake."""
    told = list(every(new))
    missing = [code for code in mistake.codes if code not in {f.code for f in told}]
    where = names_in([f for f in told if f.code in mistake.codes])
    ours = [f.severity for f in new if is_about(mistake, f)]
    gravest = min(ours, key=GRAVITY.index, default=Severity.NOTE)
    if mistake.severity and GRAVITY.index(gravest) > GRAVITY.index(Severity(mistake.severity)):
        missing.append(f"{gravest} for {mistake.severity}")
    return missing + [name for name in mistake.names if name not in where]


def is_about(mistake, finding):
    """True if a finding, or what follows from it, is about a mistake."""
    codes = {told.code for told in every([finding])}
    return not codes.isdisjoint(mistake.codes) or not names_in([finding]).isdisjoint(mistake.names)


@pytest.mark.parametrize("mistake", MISTAKES, ids=[mistake.id for mistake in MISTAKES])
def test_planted_mistake_is_found_first_in_few_findings_and_each_remedy_settles_it(
    mistake, tmp_path, findings_before, score
):
    @every_case("base", mistake.bases)
    def test(base):
        configuration, before = planted(mistake, base, tmp_path), findings_before(base)
        assert_found_first_and_in_few_findings(mistake, base, configuration, before, score)
        if base == mistake.bases[0]:
            assert_each_remedy_settles_it_and_brings_nothing_as_bad(configuration, before)

    test()


def assert_found_first_and_in_few_findings(mistake, base, configuration, before, score):
    findings = check(configuration)
    new = [f for f in findings if any((g.code, g.where) not in before for g in every([f]))]
    missing = shortcomings(mistake, new)
    grave = [f for f in new if f.severity is not NOTE and (f.code, f.where) not in before]
    tally = score.setdefault((base.partition("_")[0], KINDS[mistake.id]), [])
    tally.append(MISSED if missing else len(grave))
    assert not missing, [(f.code, f.where) for f in new]
    assert len(grave) <= (MOST if not mistake.is_double else MOST + 1), [f.code for f in grave]
    assert mistake.is_double or not grave or is_about(mistake, grave[0]), grave[0]
    for finding in every(new):
        words = finding_words(finding, "us")
        assert not metric_figures(f"{words.title} {words.what} {words.remedy}")
        assert not odd_numbers(f"{words.what} {words.remedy}"), words
        assert not told_alike(finding, "us"), words.what


def assert_each_remedy_settles_it_and_brings_nothing_as_bad(configuration, before):
    found = check(configuration)
    there = {(f.code, name) for f in every(found) for name in f.where}
    there |= {(code, name) for code, where in before for name in where}
    for finding in found:
        if not finding.remedy.edits or (finding.code, finding.where) in before:
            continue
        after = list(every(check(edited(configuration, finding.remedy.edits))))
        left = [
            f for f in after if f.code == finding.code and set(f.where) & set(finding.where[:1])
        ]
        assert not left, (finding.code, finding.remedy, left[0])
        as_bad = GRAVITY[: GRAVITY.index(finding.severity) + 1]
        worse = [
            f
            for f in after
            if f.severity in as_bad and not any((f.code, name) in there for name in f.where)
        ]
        assert not worse, (finding.code, finding.remedy, worse[0])


def test_ids_are_unique():
    ids = [mistake.id for mistake in MISTAKES]
    assert len(set(ids)) == len(ids)
    assert all(len(set(mistake.bases)) == len(mistake.bases) for mistake in MISTAKES)
