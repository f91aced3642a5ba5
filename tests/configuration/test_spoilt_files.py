"""Shipped profiles spoilt at random: they load, or are refused on purpose; nothing else happens."""

import shutil
import tomllib
from datetime import date
from pathlib import Path

import pytest
from building import CONFIGURATION, IGNITION, VEHICLE
from generating import EITHER, numbers, one_of
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from upgrade_planner.configuration.files.shipped import (
    PROFILE_FOLDERS,
    shipped_folder,
    shipped_profiles,
)
from upgrade_planner.configuration.files.toml_files import TomlFile
from upgrade_planner.configuration.loading import load_configuration
from upgrade_planner.configuration.structuring.entries import (
    ConfigurationFile,
    SystemFile,
    VehicleFile,
)
from upgrade_planner.configuration.structuring.hooks import structured_as_far_as_possible
from upgrade_planner.errors import ConfigurationError, PlannerError

USERS = {
    "row_tractor": "tractor_upgraded",
    "points_ballast": "van_original_ballast",
    "points_resistance_wire": "van_original_resistance",
    "alternator_external_regulator": "tractor_original",
}
"""A configuration that reads the profile; van_upgraded reads the others."""

PROFILES = [(kind, name) for kind in PROFILE_FOLDERS for name in shipped_profiles(kind)]
ANY_PROFILE = st.sampled_from(PROFILES)
MARKS = ('"', "'", '"""', "[", "]", "{", "}", "[[", "]]", "=", ",", ".", "#", "\\")
ENDS = ("\n", "\r", "\t", "\0", "\u2028", "\N{BYTE ORDER MARK}")
VALUES = ("[]", "{}", "true", "nan", "-1", "1e999", "0xffff", "''", "1979-05-27T07:32:00Z")
WORDS = ("role", "id", "place", "kind", "wires = 3", "[changes]\n", "\n[[component]]\n")
PIECES = st.text(max_size=6) | st.sampled_from((*MARKS, *ENDS, *VALUES, *WORDS))


TABLES = ("wires", "add_wires", "terminals", "ratings", "slots", "positions")
KEYS = st.sampled_from(
    (
        *TABLES,
        "x",
        "id",
        "role",
        "kind",
        "place",
        "from",
        "to",
        "origin",
        "start",
        "csv",
        "covering",
    )
)
SOUND = {"vehicle": VEHICLE, "system": IGNITION, "configuration": CONFIGURATION}
SORTS = {"vehicle": VehicleFile, "system": SystemFile, "configuration": ConfigurationFile}


def without_a_line(draw, text):
    lines = text.split("\n")
    del lines[draw(numbers(0, len(lines) - 1))]
    return "\n".join(lines)


def with_a_line_again(draw, text):
    lines = text.split("\n")
    line = lines[draw(numbers(0, len(lines) - 1))]
    lines.insert(draw(numbers(0, len(lines))), line)
    return "\n".join(lines)


def with_two_words_swapped(draw, text):
    words = text.split('"')
    one, other = (draw(numbers(0, len(words) - 1)) for _ in range(2))
    words[one], words[other] = words[other], words[one]
    return '"'.join(words)


def with_a_piece_more(draw, text):
    at = draw(numbers(0, len(text)))
    return text[:at] + draw(PIECES) + text[at:]


def with_a_piece_instead(draw, text):
    at = draw(numbers(0, len(text)))
    return text[:at] + draw(PIECES) + text[at + draw(numbers(1, 12)) :]


def with_another_value(draw, text):
    lines = text.split("\n")
    pairs = [number for number, line in enumerate(lines) if " = " in line]
    number = draw(one_of(tuple(pairs)))
    key = lines[number].split(" = ")[0]
    value = draw(one_of(('""', "[]", "{}", "3", "0.5", "true", '["a"]', "{ a = 1 }", '"a"')))
    lines[number] = f"{key} = {value}"
    return "\n".join(lines)


def cut_short(draw, text):
    return text[: draw(numbers(0, len(text)))]


CHANGES = (
    without_a_line,
    with_a_line_again,
    with_two_words_swapped,
    with_a_piece_more,
    with_a_piece_instead,
    with_another_value,
    cut_short,
)
SOME_CHANGES = st.lists(st.sampled_from(CHANGES), min_size=1, max_size=3)


@st.composite
def spoilt_texts(draw, text):
    for change in draw(SOME_CHANGES):
        text = change(draw, text) if " = " in text else text
    return text


@pytest.fixture(scope="module")
def profiles(tmp_path_factory):
    """A copy of the shipped profiles that may be spoilt, read in place of them."""
    folder = tmp_path_factory.mktemp("spoilt") / "profiles"
    shutil.copytree(shipped_folder("profiles"), folder)
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(
            "upgrade_planner.configuration.files.shipped.shipped_folder", lambda _: folder
        )
        yield folder


def check_refusal(error):
    assert isinstance(error, PlannerError)
    assert all(line.isprintable() for line in str(error).split("\n"))
    if isinstance(error, ConfigurationError):
        assert error.problems
        assert all(problem.found and problem.expected for problem in error.problems)


@settings(max_examples=100, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(data=st.data())
def test_spoilt_profile_loads_or_is_refused(profiles, data):
    kind, name = data.draw(ANY_PROFILE)
    path = profiles / PROFILE_FOLDERS[kind] / f"{name}.toml"
    sound = path.read_text(encoding="utf-8")
    path.write_text(data.draw(spoilt_texts(sound)), encoding="utf-8", newline="")
    try:
        load_configuration(name if kind == "configuration" else USERS.get(name, "van_upgraded"))
    except PlannerError as error:
        check_refusal(error)
    finally:
        path.write_text(sound, encoding="utf-8")


HUGE = "a number of thousands of digits, which no text of a test can hold"
JUNK = st.recursive(
    st.sampled_from((3, -1, 0.5, float("nan"), True, "", "coil", "1 m", HUGE, date(1966, 5, 1))),
    lambda inner: st.lists(inner, max_size=2) | st.dictionaries(KEYS, inner, max_size=2),
    max_leaves=4,
)


def with_huge_numbers(value):
    if isinstance(value, dict):
        return {key: with_huge_numbers(item) for key, item in value.items()}
    if isinstance(value, list):
        return [with_huge_numbers(item) for item in value]
    return 16**5000 if value == HUGE else value


def paths_in(value, path=()):
    """Every key path of data."""
    items = value.items() if isinstance(value, dict) else enumerate(value)
    for step, inner in items:
        yield (*path, step)
        if isinstance(inner, dict | list):
            yield from paths_in(inner, (*path, step))


@settings(max_examples=300)
@given(data=st.data())
def test_any_data_is_structured_or_told_what_is_wrong_with_it(data):
    name, cls = data.draw(one_of(tuple(sorted(SORTS.items()))))
    content = tomllib.loads(SOUND[name])
    for _ in range(data.draw(numbers(1, 3))):
        *outer, last = data.draw(one_of(tuple(paths_in(content))))
        holder = content
        for step in outer:
            holder = holder[step]
        if isinstance(holder, dict) and data.draw(EITHER):
            last = data.draw(KEYS)
        holder[last] = with_huge_numbers(data.draw(JUNK))
    read = structured_as_far_as_possible(cls, TomlFile(name, Path(name), "", content))
    assert read.content is not None or read.faults
    assert read.faults or not read.gaps.names
    assert all(fault.found and fault.expected for fault in read.faults)


@settings(max_examples=50, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(raw=st.binary(max_size=60))
def test_any_bytes_are_refused(profiles, raw):
    path = profiles / "bytes.toml"
    path.write_bytes(raw)
    with pytest.raises(ConfigurationError) as caught:
        load_configuration(str(path))
    check_refusal(caught.value)


@settings(max_examples=50)
@given(name=st.text(max_size=40))
def test_any_name_is_refused(name):
    with pytest.raises(PlannerError) as caught:
        load_configuration(name + "?")
    check_refusal(caught.value)
