"""
Which findings the shipped configurations have; a new finding shows here whom it touches.

A change on purpose: `python -m tests.golden findings_of_shipped.txt`.
"""

from every_case import every_case
from shipped_findings import NAMES, table
from us_words import metric_figures

from upgrade_planner.checks.causes import every
from upgrade_planner.checks.checking import check
from upgrade_planner.documents.words.findings import finding_words


@every_case("name", NAMES)
def test_a_shipped_configuration_has_the_findings_of_the_table_and_no_metric_figure_in_us_words(
    load, name
):
    known, findings = table(), check(load(name))
    found = {finding.code for finding in every(findings)}
    found -= {code for code, names in known.items() if names == ["*"]}
    assert found == {code for code, names in known.items() if name in names}
    for finding in findings:
        words = finding_words(finding, "us")
        for text in (words.title, words.what, words.remedy):  # a source is cited as published
            assert not metric_figures(text), text


def test_every_name_in_the_table_is_shipped():
    named = {name for names in table().values() for name in names} - {"*"}
    assert named <= set(NAMES)
