"""Rules and sentences belong together: none without the other, and no placeholder without fact."""

import ast
import re
import tomllib
from importlib import import_module
from pathlib import Path
from string import Formatter

import pytest

from upgrade_planner.documents.words.findings import REMEDIES, sentences

CHECKS = Path(import_module("upgrade_planner.checks").__file__).parent
FILES = Path(import_module("upgrade_planner.documents.words").__file__).parent / "sentences"
SOURCES = {path.stem: path.read_text(encoding="utf-8") for path in sorted(CHECKS.glob("*.py"))}
CODE = re.compile(r"[A-Z]{3,4}(-[A-Z]+)+")
METRIC = re.compile(r"\d\s*(mm²?|m|cm|kg|N·m)\b|°C")


def placeholders(sentence):
    """The names that a sentence wants filled, those behind `~` among them."""
    found = [(name, written or "") for _, name, written, _ in Formatter().parse(sentence) if name]
    return {name for name, _ in found} | {w.partition("~")[2] for _, w in found if "~" in w}


def literals(name):
    """Strings that a module of rules holds, docstrings left out."""
    tree = ast.parse(SOURCES[name])
    found = {n.value for n in ast.walk(tree) if isinstance(n, ast.Constant)}
    return {value for value in found if isinstance(value, str)}


def names_given(name):
    """Keys of dictionaries and names of arguments: what can be a fact in that module."""
    tree = ast.parse(SOURCES[name])
    keys = {k for n in ast.walk(tree) if isinstance(n, ast.Dict) for k in n.keys}
    names = {key.value for key in keys if isinstance(key, ast.Constant)}
    return names | {n.arg for n in ast.walk(tree) if isinstance(n, ast.keyword)}


def entries(name):
    return tomllib.loads((FILES / f"{name}.toml").read_text(encoding="utf-8"))


TOLD = sorted(path.stem for path in FILES.glob("*.toml"))
RULES = sorted(
    name
    for name in set(SOURCES) - {"causes", "checking", "consequences", "independent"}
    if any(CODE.fullmatch(text) for text in literals(name))
)


@pytest.mark.parametrize("name", RULES)
def test_each_code_of_a_module_has_its_sentences_in_the_file_of_that_name(name):
    codes = {text for text in literals(name) if CODE.fullmatch(text)}
    assert codes == set(entries(name)) - {REMEDIES}


@pytest.mark.parametrize("name", TOLD)
def test_every_sentence_is_used(name):
    table = entries(name)
    used = {text for module in SOURCES for text in literals(module)}
    causes = {
        cause
        for code, entry in table.items()
        if code != REMEDIES
        for text in entry.values()
        if isinstance(text, dict)
        for cause in text
    }
    assert set(table.get(REMEDIES, {})) <= used
    assert causes <= literals(name)


@pytest.mark.parametrize("name", TOLD)
def test_placeholders_are_facts_that_the_module_gives(name):
    given = names_given(name)
    for code, by_part in sentences().findings.items():
        if code in entries(name):
            for by_cause in by_part.values():
                wanted = {n for text in by_cause.values() for n in placeholders(text)}
                assert wanted <= given, code


def test_remedies_name_facts_that_some_module_gives():
    given = {name for module in SOURCES for name in names_given(module)}
    for code, text in sentences().remedies.items():
        assert placeholders(text) <= given, code


@pytest.mark.parametrize("name", RULES)
def test_each_remedy_has_a_sentence(name):
    remedies = {
        argument.value
        for node in ast.walk(ast.parse(SOURCES[name]))
        if isinstance(node, ast.Call) and getattr(node.func, "id", "") == "Remedy"
        for argument in ast.walk(node.args[0])
        if isinstance(argument, ast.Constant) and isinstance(argument.value, str)
    }
    assert remedies <= set(sentences().remedies)


@pytest.mark.parametrize("name", TOLD)
def test_no_sentence_holds_a_metric_figure_of_its_own(name):
    """Lengths, areas and temperatures are facts, so that they can be told in US units."""
    assert METRIC.findall((FILES / f"{name}.toml").read_text(encoding="utf-8")) == []


PLURAL = re.compile(r"\{[^}]*[.]\d[fg][^}]*\} (are|flow|reach|stand|leave|pass|go|drive)\b")
"""An amount, and a verb as of several."""


@pytest.mark.parametrize("name", TOLD)
def test_an_amount_is_one_thing(name):
    """12 A flows, 5 A is right: a restorer does not count amperes."""
    assert PLURAL.findall((FILES / f"{name}.toml").read_text(encoding="utf-8")) == []


NOT_SAID = re.compile(
    r"\b(hangs? on|hung on|bears? the|seeks|reckoned)\b|\bLead [a-z{]|\blead (it|the) "
)
"""What is said of wires in other languages, or of other things; `lead` is a wire."""


@pytest.mark.parametrize("path", sorted(FILES.parent.glob("*.toml")) + sorted(FILES.glob("*.toml")))
def test_verbs_are_those_of_the_trade(path):
    assert NOT_SAID.findall(path.read_text(encoding="utf-8")) == []
