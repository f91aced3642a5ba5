"""The recipe of the contributor guide for a new check, followed to the letter."""

import shutil
from importlib.resources import files

import pytest
from pair_facts import loaded
from recipes import blocks_of_recipe
from shipped_findings import table

from upgrade_planner.checks import checking, connections
from upgrade_planner.checks.causes import every
from upgrade_planner.documents.words import findings, texts

TOUCHED, NOT_TOUCHED = "tractor_upgraded", "van_upgraded"
CODE = "CONN-COLOURS"
RULE, SENTENCES = blocks_of_recipe("A check")


@pytest.fixture
def rule(monkeypatch):
    """The function of the recipe in its module, and in the list."""
    inside = dict(vars(connections))
    exec(RULE, inside)
    monkeypatch.setattr(checking, "RULES", (*checking.RULES, inside["spliced_in_two_colours"]))
    monkeypatch.setattr(checking, "_found", checking._found.__wrapped__.__wrapped__.__wrapped__)
    monkeypatch.setattr(checking, "check", checking.check.__wrapped__)


@pytest.fixture
def sentences(tmp_path, monkeypatch):
    """Its sentences in the file of the module, the remedy at its end."""
    shutil.copytree(files("upgrade_planner.documents.words") / "sentences", tmp_path / "sentences")
    file = tmp_path / "sentences" / "connections.toml"
    finding, heading, remedy = SENTENCES.partition("[remedies]\n")
    told = file.read_text(encoding="utf-8").replace(heading, finding + heading)
    file.write_text(told + remedy, encoding="utf-8")
    monkeypatch.setattr(findings, "files", lambda package: tmp_path)
    for kept in (findings.sentences, texts._texts, texts.texts_of):
        kept.cache_clear()
    yield
    monkeypatch.undo()
    for kept in (findings.sentences, texts._texts, texts.texts_of):
        kept.cache_clear()


def test_check_tells_it_where_it_is_and_nowhere_else(rule, sentences, run, tmp_path):
    said = run("check", TOUCHED, cwd=tmp_path).stdout
    assert "NOTE Splice of two colours: " in said
    assert "Wires of 2 main colours meet in one splice." in said
    assert "Remedy: Mark the wires on both sides with their circuit." in said
    assert CODE not in run("check", NOT_TOUCHED, cwd=tmp_path).stdout


def test_without_its_sentences_nothing_is_told(rule):
    (found,) = (f for f in checking.check(loaded(TOUCHED)) if f.code == CODE)
    with pytest.raises(KeyError, match="mark-both-sides"):
        findings.finding_words(found, "metric")


def test_its_title_is_asked_for_in_every_language(sentences):
    with pytest.raises(ValueError, match=f"findings.{CODE}"):
        texts.texts_of("de")


def test_its_row_in_the_table_of_shipped_findings_is_asked_for(rule):
    now = {finding.code for finding in every(checking.check(loaded(TOUCHED)))}
    assert now - set(table()) == {CODE}
