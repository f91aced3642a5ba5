"""Marks of terminals and colours of wires in all that is shipped: of a standard, or our own."""

import re
import tomllib
from functools import cache

from every_case import every_case
from places import ROOT

from upgrade_planner.configuration.model import TerminalRef

GUIDE = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8").partition("### Marks and colours")[2]
FILES = sorted((ROOT / "profiles").glob("*/*.toml")) + sorted((ROOT / "tests/profiles").glob("*"))
WAY = re.compile(r"\d+|.+ \(\d+\)")
CODE = re.compile(r"[A-Z]{2}(?:/[A-Z]{2})?")
SCHEME = {
    circuit: set(CODE.findall(colours))
    for circuit, colours in re.findall(r"^\| ([a-z ]+) \| (.*[A-Z]{2}.*) \|$", GUIDE, re.MULTILINE)
}


def words_of_the_guide(title):
    """The words of a list in the guide."""
    return set(re.search(rf"^- {title}: (.*)$", GUIDE, re.MULTILINE).group(1).split())


@cache
def content_of(path):
    return tomllib.loads(path.read_text(encoding="utf-8"))


def tables(value):
    """Every table in the data of a file, at any depth."""
    if isinstance(value, dict):
        yield value
    for inner in value.values() if isinstance(value, dict) else value:
        if isinstance(inner, dict | list):
            yield from tables(inner)


def marks_of(path):
    """Kind of part and mark of every terminal of a file."""
    for table in tables(content_of(path)):
        for terminal in table.get("terminals", []):
            yield table.get("kind"), terminal["label"]


def is_designation(mark, designations):
    """Whether each half is of the standard, with at most one letter of its own behind it."""
    return all(
        half in designations or (half[:-1] in designations and half[:-1].isdigit())
        for half in mark.split("/")
    )


@every_case("path", FILES)
def test_marks_are_of_the_standard_or_plain_words(path):
    designations = words_of_the_guide("designations")
    words = words_of_the_guide("functions") | words_of_the_guide(
        "metal by which a part is grounded"
    )
    strange = {
        mark
        for kind, mark in marks_of(path)
        if not (
            set(mark.split()) <= words
            or is_designation(mark, designations)
            or (kind == "fuse_box" and WAY.fullmatch(mark))
        )
    }
    assert not strange


def wires_of(path):
    """Wires that a file brings, without those that an earlier owner added."""
    content = content_of(path)
    for table in tables({key: content[key] for key in content if key != "as_found"}):
        if "circuit" in table and "colour" in table:
            yield table


def is_in_scheme(wire):
    """Whether a wire has a colour of its circuit; one that is not in the table may have any."""
    colours = SCHEME.get(wire["circuit"])
    if colours is None:
        return True
    if wire.get("conductor") == "fusible link":
        return wire["colour"] in {f"{colour[:2]}/OG" for colour in colours}
    return wire["colour"] in colours


@every_case("path", [one for one in FILES if one.parent.name != "vehicles"])
def test_what_systems_and_targets_bring_has_the_colour_of_its_circuit(path):
    strange = {
        f"{wire['id']} {wire['circuit']} {wire['colour']}"
        for wire in wires_of(path)
        if not is_in_scheme(wire)
    }
    assert not strange


@every_case("path", FILES)
def test_black_is_ground_and_ground_is_black(path):
    """A return, a cable on a grounded post and a field that ends on ground among it."""
    strange = set()
    for wire in wires_of(path):
        is_ground = wire["circuit"] == "ground"
        goes_to_ground = is_ground or wire["circuit"] in {"battery cable", "field"}
        looks_black = wire["colour"].startswith("BK")
        if (looks_black and not goes_to_ground) or (is_ground and wire["colour"] != "BK"):
            strange.add(f"{wire['id']} {wire['colour']}")
    assert not strange


POSITIVE_GROUND = [
    path.stem
    for path in FILES
    if path.parent.name == "configurations"
    and path.stem.split("_")[0] in {"saloon", "roadster", "six"}
]


@every_case("name", POSITIVE_GROUND)
def test_no_red_cable_is_on_the_minus_post(load, name):
    """Somebody would join the battery by its colour."""
    configuration = load(name)
    on_minus = {
        wire.id
        for wire in configuration.wires_at.get(TerminalRef("battery", "negative"), ())
        if wire.circuit == "starter cable" and wire.colour.main == "RD"
    }
    assert not on_minus
