"""Reasons in words: every code has its sentence, and US words name no metric figure."""

import re
import tomllib
from importlib.resources import files
from pathlib import Path

from every_case import every_case

import upgrade_planner
from upgrade_planner.comparison.why import because
from upgrade_planner.configuration.values.measures import celsius, metre, volt
from upgrade_planner.configuration.values.sizes import parse_wire_size
from upgrade_planner.documents.words.reasons import reason_words, wait_words
from upgrade_planner.planning.operations import Wait

ROOT = Path(upgrade_planner.__file__).parent
SENTENCES = tomllib.loads(
    files("upgrade_planner.documents.words").joinpath("reasons.toml").read_text(encoding="utf-8")
)["sentences"]


def code_of_comparison():
    """All that could name a code: the comparison and its data."""
    files_of_it = [*(ROOT / "comparison").glob("*.py"), ROOT / "comparison/data/conversions.toml"]
    return "\n".join(path.read_text(encoding="utf-8") for path in files_of_it)


def test_every_sentence_is_of_a_code_that_is_given():
    text = code_of_comparison()
    assert [code for code in SENTENCES if f'"{code}"' not in text] == []


def test_every_code_given_has_a_sentence():
    given = re.findall(r'because\(\s*"([^"]+)"|^why = "([^"]+)"', code_of_comparison(), re.M)
    assert {code for pair in given for code in pair if code} <= set(SENTENCES)


@every_case("wait", list(Wait))
def test_every_wait_has_words_but_the_mere_turn(wait):
    assert bool(wait_words(wait)) is (wait is not Wait.IN_TURN)


@every_case(
    ("reason", "words"),
    [
        (because("insulation", name="PVC", stands=celsius(70.0), wanted=celsius(105.0)), "°C"),
        (because("contacts-either-way", distance=metre(1e6)), "km"),
        (because("larger", wanted=parse_wire_size("4 mm²")), "mm"),
        (because("output-loses", drop=volt(0.2), at=celsius(60.0)), "°C"),
    ],
)
def test_us_words_name_no_metric_figure(reason, words):
    assert words in reason_words([reason], "metric")
    assert words not in reason_words([reason], "us")


def test_shortfalls_make_one_sentence():
    sizes = {"old": parse_wire_size("14 SAE"), "wanted": parse_wire_size("10 SAE")}
    heat = because("insulation", name="PVC", stands=celsius(70.0), wanted=celsius(105.0))
    reason = because("falls-short", shortfalls=(because("thinner", **sizes), heat))
    words = reason_words([reason], "both").replace("\N{NO-BREAK SPACE}", " ")
    assert words == (
        "14 SAE is thinner than 10 SAE; PVC insulation is good to 70 °C, 105 °C is needed."
    )


def test_sizes_of_one_gauge_are_told_apart_in_us_words():
    thin, thick = parse_wire_size("5 mm²"), parse_wire_size("6 mm²")
    told = reason_words([because("thinner", old=thin, wanted=thick)], "us")
    one, _, other = told.partition(" is thinner than ")
    assert one.lower() != other.rstrip(".").lower()
    assert "mm²" not in told
    assert "cmil" in told
