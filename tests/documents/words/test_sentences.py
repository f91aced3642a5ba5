"""Rules and sentences belong together: none without the other, and no placeholder without fact."""

import ast
import re
import tomllib
from functools import cache
from importlib import import_module
from pathlib import Path
from string import Formatter

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


@cache
def nodes(name):
    """What a module of rules is made of."""
    return tuple(ast.walk(ast.parse(SOURCES[name])))


@cache
def literals(name):
    """Strings that a module of rules holds."""
    return {n.value for n in nodes(name) if isinstance(n, ast.Constant) and type(n.value) is str}


@cache
def names_given(name):
    """Keys of dictionaries and names of arguments: what can be a fact in that module."""
    keys = {k for n in nodes(name) if isinstance(n, ast.Dict) for k in n.keys}
    names = {key.value for key in keys if isinstance(key, ast.Constant)}
    return names | {n.arg for n in nodes(name) if isinstance(n, ast.keyword)}


TEXTS = {path.stem: path.read_text(encoding="utf-8") for path in sorted(FILES.glob("*.toml"))}


@cache
def entries(name):
    return tomllib.loads(TEXTS[name])


def rules():
    """Modules that name a code."""
    apart = {"causes", "checking", "consequences", "independent"}
    return [n for n in set(SOURCES) - apart if any(map(CODE.fullmatch, literals(n)))]


def test_each_code_of_a_module_has_its_sentences_in_the_file_of_that_name():
    for name in rules():
        codes = {text for text in literals(name) if CODE.fullmatch(text)}
        assert codes == set(entries(name)) - {REMEDIES}, name


def test_every_sentence_is_used():
    used = {text for module in SOURCES for text in literals(module)}
    for name in TEXTS:
        table = entries(name)
        causes = {
            cause
            for code, entry in table.items()
            if code != REMEDIES
            for text in entry.values()
            if isinstance(text, dict)
            for cause in text
        }
        assert set(table.get(REMEDIES, {})) <= used, name
        assert causes <= literals(name), name


def test_placeholders_are_facts_that_the_module_gives():
    module_of = {code: name for name in TEXTS for code in entries(name)}
    for code, by_part in sentences().findings.items():
        for by_cause in by_part.values():
            wanted = {n for text in by_cause.values() for n in placeholders(text)}
            assert wanted <= names_given(module_of[code]), code


def test_remedies_name_facts_that_some_module_gives():
    given = {name for module in SOURCES for name in names_given(module)}
    for code, text in sentences().remedies.items():
        assert placeholders(text) <= given, code


def test_each_remedy_has_a_sentence():
    remedies = {
        argument.value
        for name in rules()
        for node in nodes(name)
        if isinstance(node, ast.Call) and getattr(node.func, "id", "") == "Remedy"
        for argument in ast.walk(node.args[0])
        if isinstance(argument, ast.Constant) and isinstance(argument.value, str)
    }
    assert remedies
    assert remedies <= set(sentences().remedies)


def found_in_texts(pattern, texts):
    """What a pattern finds in sentences, with the name of their file."""
    return [(name, found) for name, text in texts.items() for found in pattern.findall(text)]


def test_no_sentence_holds_a_metric_figure_of_its_own():
    """Lengths, areas and temperatures are facts, so that they can be told in US units."""
    assert found_in_texts(METRIC, TEXTS) == []


PLURAL = re.compile(r"\{[^}]*[.]\d[fg][^}]*\} (are|flow|reach|stand|leave|pass|go|drive)\b")
"""An amount, and a verb as of several."""


def test_an_amount_is_one_thing():
    """12 A flows, 5 A is right: a restorer does not count amperes."""
    assert found_in_texts(PLURAL, TEXTS) == []


NOT_SAID = re.compile(
    r"\b(hangs? on|hung on|bears? the|seeks|reckoned)\b|\bLead [a-z{]|\blead (it|the) "
)
"""What is said of wires in other languages, or of other things; `lead` is a wire."""


def test_verbs_are_those_of_the_trade():
    others = {path.name: path.read_text(encoding="utf-8") for path in FILES.parent.glob("*.toml")}
    assert others
    assert found_in_texts(NOT_SAID, {**TEXTS, **others}) == []
