"""Places of keys and values: readable examples first, then generated documents."""

import json
import time
import tomllib
from collections.abc import Iterator
from datetime import date, datetime
from random import Random
from textwrap import dedent
from typing import Any

import pytest
from attrs import frozen
from drawn_once import drawn, of_each
from every_case import every_case
from hypothesis import example, given
from hypothesis import strategies as st

from upgrade_planner.configuration.files.positions import (
    DEEPEST_PATH,
    KeyPath,
    Position,
    Span,
    nearest_position,
    positions,
)


def span(key: tuple[int, int] | None, value: tuple[int, int]) -> Span:
    return Span(None if key is None else Position(*key), Position(*value))


def text_at(text: str, position: Position) -> str:
    """The rest of the text, from a position on."""
    lines = text.split("\n")[position.line - 1 :]
    return "\n".join(lines)[position.column - 1 :]


def paths_in(value: Any, path: KeyPath = ()) -> Iterator[KeyPath]:
    """Every key path of data that tomllib has read."""
    parts = value.items() if isinstance(value, dict) else enumerate(value)
    for part, inner in parts:
        yield (*path, part)
        if isinstance(inner, dict | list):
            yield from paths_in(inner, (*path, part))


class TestPairs:
    def test_key_and_value_stand_where_they_are_written(self) -> None:
        text = "\n  length_m  =  1.5  # feed\n"
        assert positions(text) == {("length_m",): span((2, 3), (2, 16))}

    @every_case(
        ("key", "name"),
        [
            ("area_mm2", "area_mm2"),
            ("0-1", "0-1"),
            ('"a.b = [c] # d"', "a.b = [c] # d"),
            ("'C:\\e \"f\"'", 'C:\\e "f"'),
            ('"\\"\\\\\\u00b5\\U0001F50B\\t"', '"\\µ🔋\t'),
            ('""', ""),
            ("''", ""),
        ],
    )
    def test_key_is_named_as_tomllib_names_it(self, key: str, name: str) -> None:
        text = f"{key} = 1"
        assert tomllib.loads(text) == {name: 1}
        assert positions(text) == {(name,): span((1, 1), (1, len(key) + 4))}

    @every_case(
        "literal",
        [
            "1",
            "-1_000",
            "0xdead_BEEF",
            "+6.5e-3",
            "-inf",
            "nan",
            "true",
            "2001-02-03",
            "2001-02-03 04:05:06.7+01:00",
            "2001-02-03T04:05:06Z",
            "04:05:06",
            '"# = [ \\" \\\\"',
            "'\\'",
            '""',
            "''",
            '""""""',
            "''''''",
            '"""""two" "" quotes"""""',
            "'''''two' '' quotes'''''",
            '"""\\""""',
            '"""\\\n   # no comment\n[no-table]\n"""',
            "'''\n# no comment\n[no-table]\n'''",
        ],
    )
    @every_case("end", ["", " ", "# c", "\t# c"])
    def test_what_follows_a_value_is_found(self, literal: str, end: str) -> None:
        text = f"a = {literal}{end}\nb = [{literal}, 1]"
        tomllib.loads(text)
        line = literal.count("\n") + 2
        found = positions(text)
        assert found["a",] == span((1, 1), (1, 5))
        assert found["b",] == span((line, 1), (line, 5))
        assert found["b", 0] == span(None, (line, 6))
        assert text_at(text, found["b", 1].value) == "1]"

    def test_columns_count_characters_and_lines_end_as_in_toml(self) -> None:
        """
        Neither a wide character nor U+2028, which ends a line for str.splitlines, moves a place.
        """
        text = 'a = ["Ω🔋\u2028", 1]\nb = 2'
        assert positions(text)["a", 1] == span(None, (1, 13))
        assert positions(text)["b",] == span((2, 1), (2, 5))

    def test_carriage_returns_move_nothing(self) -> None:
        text = '[a] # c\nb = """x\ny"""\n\nc = [ # d\n  1,\n]\nd = 2\n'
        assert positions(text.replace("\n", "\r\n")) == positions(text)
        assert positions(text)["a", "d"] == span((8, 1), (8, 5))


class TestTables:
    def test_table_stands_at_the_bracket_of_its_header(self) -> None:
        text = '\n [ a . "b.c" ]\nd = 1'
        assert positions(text) == {
            ("a",): span((2, 4), (2, 2)),
            ("a", "b.c"): span((2, 8), (2, 2)),
            ("a", "b.c", "d"): span((3, 1), (3, 5)),
        }

    def test_own_header_goes_before_a_mention_in_another_header(self) -> None:
        found = positions("[a.b]\n[c]\n[a]\n[a.d]")
        assert found["a",] == span((3, 2), (3, 1))
        assert found["a", "d"] == span((4, 4), (4, 1))

    def test_implied_table_stands_where_it_is_first_mentioned(self) -> None:
        text = "a . b.c = 1\na.d = 2"
        assert positions(text) == {
            ("a",): span((1, 1), (1, 1)),
            ("a", "b"): span((1, 5), (1, 5)),
            ("a", "b", "c"): span((1, 7), (1, 11)),
            ("a", "d"): span((2, 3), (2, 7)),
        }

    def test_array_table_counts_its_elements(self) -> None:
        text = "[[wire]]\nid = 1\n[other]\n[[wire]]\n[[wire]]\nid = 2"
        assert positions(text) == {
            ("wire",): span((1, 3), (1, 1)),
            ("wire", 0): span(None, (1, 1)),
            ("wire", 0, "id"): span((2, 1), (2, 6)),
            ("other",): span((3, 2), (3, 1)),
            ("wire", 1): span(None, (4, 1)),
            ("wire", 2): span(None, (5, 1)),
            ("wire", 2, "id"): span((6, 1), (6, 6)),
        }

    def test_sub_tables_belong_to_the_last_element(self) -> None:
        text = dedent("""\
            [[component]]
            [component.place]
            x = 1
            [[component.terminal]]
            [[component.terminal]]
            [component.terminal.size]
            [[component]]
            [[component.terminal]]
            label = "E"
            [component.place.old]
        """)
        found = positions(text)
        assert set(found) == set(paths_in(tomllib.loads(text)))
        assert found["component", 0, "place", "x"] == span((3, 1), (3, 5))
        assert found["component", 0, "terminal", 1, "size"] == span((6, 21), (6, 1))
        assert found["component", 1, "terminal", 0] == span(None, (8, 1))
        assert found["component", 1, "terminal", 0, "label"] == span((9, 1), (9, 9))
        assert found["component", 1, "place"] == span((10, 12), (10, 1))


class TestInside:
    def test_inline_table_may_hold_dotted_keys(self) -> None:
        text = 'a = { b.c = 1, "d" = {}, b.e = [{}, { f = 2 }] }'
        found = positions(text)
        assert set(found) == set(paths_in(tomllib.loads(text)))
        assert found["a",] == span((1, 1), (1, 5))
        assert found["a", "b"] == span((1, 7), (1, 7))
        assert found["a", "b", "c"] == span((1, 9), (1, 13))
        assert found["a", "d"] == span((1, 16), (1, 22))
        assert found["a", "b", "e", 1] == span(None, (1, 37))
        assert found["a", "b", "e", 1, "f"] == span((1, 39), (1, 43))

    def test_array_may_run_over_lines_with_comments(self) -> None:
        text = dedent("""\
            a = [ # ], 1
              1

              # 2,
              , [
                'b',],  # c
            ]
            d = 3
        """)
        assert positions(text) == {
            ("a",): span((1, 1), (1, 5)),
            ("a", 0): span(None, (2, 3)),
            ("a", 1): span(None, (5, 5)),
            ("a", 1, 0): span(None, (6, 5)),
            ("d",): span((8, 1), (8, 5)),
        }


class TestNearestPosition:
    FOUND = positions("[[wire]]\nid = 1\nends = ['a', 'b']")

    def test_known_path_has_its_own_place(self) -> None:
        assert nearest_position(self.FOUND, ("wire", 0, "ends", 1)) == span(None, (3, 14))

    def test_missing_key_points_at_its_table(self) -> None:
        assert nearest_position(self.FOUND, ("wire", 0, "area", "x")) == span(None, (1, 1))

    def test_missing_element_points_at_its_array(self) -> None:
        assert nearest_position(self.FOUND, ("wire", 1, "id")) == span((1, 3), (1, 1))
        assert nearest_position(self.FOUND, ("wire", 0, "ends", 2)) == span((3, 1), (3, 8))

    @every_case("path", [(), ("component",), ("component", 0)])
    def test_path_with_nothing_known_around_it_has_no_place(self, path: KeyPath) -> None:
        assert nearest_position(self.FOUND, path) is None


class TestLimits:
    def test_thousands_of_brackets_do_no_harm(self) -> None:
        found = positions("a = " + "[" * 2000 + "]" * 2000 + "\nb = 1")
        assert found["b",] == span((2, 1), (2, 5))

    def test_too_deep_path_is_left_out_and_found_by_its_nearest_parent(self) -> None:
        found = positions("a = " + "[" * 120 + "]" * 120)
        deepest: KeyPath = ("a", *[0] * (DEEPEST_PATH - 1))
        assert max(found, key=len) == deepest
        assert nearest_position(found, (*deepest, 0, 0)) == span(None, (1, 4 + DEEPEST_PATH))

    def test_too_deep_tables_are_left_out(self) -> None:
        names = [f"k{level}" for level in range(DEEPEST_PATH + 5)]
        dotted = ".".join(names)
        for text in (f"[{dotted}]\na = 1", f"[[{dotted}]]\na = 1", f"{dotted} = 1"):
            found = positions(f"{text}\n[b]")
            assert {path for path in found if path[0] != "b"} == {
                tuple(names[: length + 1]) for length in range(DEEPEST_PATH)
            }
            assert ("b",) in found
            deepest = found[tuple(names[:DEEPEST_PATH])].key
            assert deepest is not None
            assert text_at(text, deepest).startswith(names[DEEPEST_PATH - 1])

    @every_case(
        "text",
        [
            '[[c]]\nid = "x" # y\nt = [\n {l = "S", a.b = 2.5},\n]\n' * 4_000,
            "a = [" + "0," * 100_000 + "]",
            "a = " + "[" * 200_000,
            "a." * 100_000 + "a = 1",
            'a = """' + '""\\"' * 50_000,
            "a = [" + " \n#" * 66_000,
        ],
    )
    def test_a_fifth_of_a_megabyte_is_read_in_linear_time(self, text: str) -> None:
        """
        The usual time is half a second; reading in quadratic time would take half a minute.
        """
        start = time.process_time()
        positions(text)
        assert time.process_time() - start < 4


class TestUnreadableText:
    @every_case(
        "rest",
        [
            "c",
            "c =",
            "c = \n",
            "= 1",
            "c 1",
            "c = 1 b = 2",
            'c = "x',
            "c. = 1",
            '"\\q" = 1',
            '"\\ud800" = 1',
            "[c",
            "[[c]",
            "[]",
            "]",
            "\ufeff",
            "µ = 1",
        ],
    )
    def test_what_stands_before_the_fault_is_kept(self, rest: str) -> None:
        with pytest.raises(tomllib.TOMLDecodeError):
            tomllib.loads(f"a = 1\n{rest}\nb = 2")
        found = positions(f"a = 1\n{rest}\nb = 2")
        assert found["a",] == span((1, 1), (1, 5))
        assert not any("b" in path for path in found)

    def test_open_array_keeps_its_elements(self) -> None:
        assert set(positions("a = [1, [2 3")) == {("a",), ("a", 0), ("a", 1), ("a", 1, 0)}


class Writer:
    """
    Writes data as TOML in a layout drawn at random, and notes the place of each thing it writes.

    A section is one header with its pairs; its path holds the index of each array table it is in.
    """

    def __init__(self, random: Random) -> None:
        self.text = ""
        self.spans: dict[KeyPath, Span] = {}
        self.literals: dict[KeyPath, str] = {}
        self.random = random
        self.newline = random.choice(["\n", "\r\n"])

    def here(self) -> Position:
        return Position(self.text.count("\n") + 1, len(self.text) - self.text.rfind("\n"))

    def maybe(self, *texts: str) -> str:
        return self.random.choice(["", *texts])

    def space(self) -> None:
        self.text += self.maybe(" ", "\t ")

    def end_line(self) -> None:
        self.text += (
            self.maybe(" ", "# [x]", ' # = """ é🔋') + self.newline + self.maybe(self.newline)
        )

    def blank(self) -> None:
        """White space of an array, where lines may end."""
        self.space()
        if self.maybe("line"):
            self.end_line()
            self.space()

    def write_sections(self, table: dict[str, Any], path: KeyPath = ()) -> None:
        """Write a table whose header, if it has one, is written already."""
        body, sections = self.split(table, path)
        self.write_body(body, path)
        self.random.shuffle(sections)
        for section_path, content in sections:
            if isinstance(content, list):
                self.write_array_table(section_path, content)
            else:
                self.write_header(section_path, "[", "]")
                self.write_body(content, section_path)

    def split(self, table: dict[str, Any], path: KeyPath) -> tuple[dict[str, Any], list[Any]]:
        """Part what goes into the body of a table from what gets a header of its own."""
        body: dict[str, Any] = {}
        sections: list[tuple[KeyPath, Any]] = []
        for key, value in table.items():
            if isinstance(value, dict) and self.maybe("header"):
                inner, deeper = self.split(value, (*path, key))
                sections += deeper
                if inner or not deeper or self.maybe("header"):
                    sections.append(((*path, key), inner))
            elif has_only_tables(value) and self.maybe("header"):
                sections.append(((*path, key), value))
            else:
                body[key] = value
        return body, sections

    def write_array_table(self, path: KeyPath, elements: list[dict[str, Any]]) -> None:
        for index, element in enumerate(elements):
            bracket = self.write_header(path, "[[", "]]")
            self.spans[(*path, index)] = Span(None, bracket)
            self.write_sections(element, (*path, index))

    def write_header(self, path: KeyPath, start: str, end: str) -> Position:
        self.space()
        bracket = self.here()
        self.text += start
        names = [length for length in range(1, len(path) + 1) if isinstance(path[length - 1], str)]
        for length in names:
            key = self.write_key(str(path[length - 1]), "." if length > 1 else "")
            is_own_header = length == len(path) and start == "["
            if is_own_header or path[:length] not in self.spans:
                self.spans[path[:length]] = Span(key, bracket)
        self.text += end
        self.end_line()
        return bracket

    def write_body(self, body: dict[str, Any], path: KeyPath) -> None:
        for keys, value in self.pairs(body):
            self.space()
            self.write_pair(keys, value, path)
            self.end_line()

    def pairs(self, table: dict[str, Any]) -> list[tuple[list[str], Any]]:
        """Pairs of a table, in any order; tables inside may be dissolved into dotted keys."""
        pairs: list[tuple[list[str], Any]] = []
        for key, value in table.items():
            if isinstance(value, dict) and value and self.maybe("dotted"):
                pairs += [([key, *keys], inner) for keys, inner in self.pairs(value)]
            else:
                pairs.append(([key], value))
        self.random.shuffle(pairs)
        return pairs

    def write_pair(self, keys: list[str], value: Any, path: KeyPath) -> None:
        for index, key in enumerate(keys):
            path = (*path, key)
            position = self.write_key(key, "." if index else "")
            self.spans.setdefault(path, Span(position, position))
        self.text += "="
        self.space()
        self.write_value(value, path, position)

    def write_key(self, key: str, before: str) -> Position:
        self.text += before
        self.space()
        position = self.here()
        self.text += self.random.choice(key_literals(key))
        self.space()
        return position

    def write_value(self, value: Any, path: KeyPath, key: Position | None) -> None:
        self.spans[path] = Span(key, self.here())
        if isinstance(value, dict):
            self.write_inline_table(value, path)
        elif isinstance(value, list):
            self.write_array(value, path)
        else:
            self.literals[path] = self.random.choice(literals(value, self.newline))
            self.text += self.literals[path]

    def write_inline_table(self, table: dict[str, Any], path: KeyPath) -> None:
        self.text += "{"
        self.space()
        for index, (keys, value) in enumerate(self.pairs(table)):
            self.text += "," if index else ""
            self.space()
            self.write_pair(keys, value, path)
            self.space()
        self.text += "}"

    def write_array(self, elements: list[Any], path: KeyPath) -> None:
        self.text += "["
        self.blank()
        for index, element in enumerate(elements):
            self.write_value(element, (*path, index), None)
            self.blank()
            self.text += "," if index < len(elements) - 1 else self.maybe(",")
            self.blank()
        self.text += "]"


def has_only_tables(value: Any) -> bool:
    return isinstance(value, list) and value != [] and all(isinstance(v, dict) for v in value)


def escaped(text: str) -> str:
    """Text as TOML escapes it; DEL is the one control character that JSON leaves alone."""
    return json.dumps(text, ensure_ascii=False)[1:-1].replace("\x7f", "\\u007F")


def key_literals(key: str) -> list[str]:
    bare = key != "" and key.isascii() and key.replace("_", "a").replace("-", "a").isalnum()
    raw = "'" not in key and escaped(key).replace('\\"', '"') == key
    return [f'"{escaped(key)}"', *[key] * bare, *[f"'{key}'"] * raw]


def string_literals(text: str, newline: str) -> list[str]:
    lines = [escaped(line) for line in text.split("\n")]
    plain = [line.replace('\\"', '"') for line in lines] == text.split("\n")
    # Two quotes may stand bare in a multi-line string, even right before the closing three.
    bare_quotes = newline.join(lines).replace('\\"', '"') if plain else newline.join(lines)
    spaced = newline + text.replace("\n", newline)
    return [
        f'"{escaped(text)}"',
        f'"""{newline}{newline.join(lines)}"""',
        *[f'"""{newline}{bare_quotes}"""'] * ('"""' not in text),
        *[f'"""\\{newline} {newline.join(lines)}"""'] * (text[:1] not in {"", " ", "\n"}),
        *[f"'{text}'"] * (plain and "'" not in text and "\n" not in text),
        *[f"'''{spaced}'''"] * (plain and "'''" not in text),
    ]


def literals(value: Any, newline: str) -> list[str]:
    """Every way in which we write a scalar."""
    match value:
        case bool():
            return [str(value).lower()]
        case int():
            return [str(value), f"{value:_}", *[hex(value)] * (value >= 0)]
        case str():
            return string_literals(value, newline)
        case datetime():
            return [value.isoformat(), value.isoformat(" ")]
        case date():
            return [value.isoformat()]
    # A TOML float wants a digit on both sides of its point, as repr gives it, or an exponent.
    return [repr(value), repr(value).replace("e", "E")]


words = st.text(st.sampled_from("ab.\"'\\#=[]{}, \n\t\r\x7fé🔋\u2028"), max_size=6) | st.text(
    max_size=6
)
keys = st.sampled_from(["a", "b", "wire", "0", "-_"]) | words
scalars = (
    words
    | st.integers(-(2**63), 2**63 - 1)
    | st.booleans()
    | st.floats(allow_nan=False)
    | st.dates()
    | st.datetimes()
)
values = st.recursive(
    scalars,
    lambda inner: (
        st.lists(inner, max_size=3)
        | st.dictionaries(keys, inner, max_size=4)
        | st.lists(st.dictionaries(keys, inner, max_size=3), max_size=3)
    ),
    max_leaves=12,
)
documents = st.dictionaries(keys, values, max_size=5)
randoms = st.randoms(use_true_random=False)
marks = [*"ab1=.,[]{}#\\\"' \n\x00é", '"""', "'''", "\r\n", "b.", "a=1\n", "[a.b]\n", "[[a]]\n"]
fragments = st.lists(st.sampled_from(marks), max_size=25).map("".join)


@frozen
class Written:
    """A document, the place of each thing in it, and each scalar as it was written."""

    text: str
    spans: dict[KeyPath, Span]
    literals: dict[KeyPath, str]


@st.composite
def written_documents(draw: st.DrawFn) -> Written:
    """A document that tomllib reads as the data it was written from, and its places."""
    data = draw(documents)
    writer = Writer(draw(randoms))
    writer.write_sections(data)
    assert tomllib.loads(writer.text) == data
    return Written(writer.text, writer.spans, writer.literals)


@st.composite
def cut_documents(draw: st.DrawFn) -> tuple[Written, int]:
    """One of the documents that were written, and any place in it."""
    written = draw(st.sampled_from(drawn(written_documents)))
    return written, draw(st.integers(0, len(written.text)))


class TestGeneratedDocuments:
    @of_each(100, written_documents)
    def test_key_paths_are_those_of_tomllib(self, written: Written) -> None:
        assert set(positions(written.text)) == set(paths_in(tomllib.loads(written.text)))

    @of_each(100, written_documents)
    def test_text_at_each_scalar_is_the_literal_that_was_written(self, written: Written) -> None:
        found = positions(written.text)
        for path, literal in written.literals.items():
            assert text_at(written.text, found[path].value).startswith(literal)

    @of_each(100, written_documents)
    def test_keys_and_values_stand_where_they_were_written(self, written: Written) -> None:
        assert positions(written.text) == written.spans

    @given(cut_documents())
    def test_text_cut_short_gives_some_of_the_paths_and_no_other(
        self, document: tuple[Written, int]
    ) -> None:
        written, cut = document
        assert set(positions(written.text[:cut])) <= set(written.spans)

    @given(cut_documents(), fragments)
    def test_text_with_a_piece_put_in_is_read_as_tomllib_reads_it(
        self, document: tuple[Written, int], piece: str
    ) -> None:
        written, cut = document
        check_any_text(written.text[:cut] + piece + written.text[cut:])


def check_any_text(text: str) -> None:
    """Nothing is raised, places are in the text, and paths are right if the text is TOML."""
    found = positions(text)
    for place in found.values():
        assert text_at(text, place.value) != ""
    try:
        data = tomllib.loads(text)
    except ValueError:
        return
    assert set(found) == set(paths_in(data))


class TestAnyText:
    @given(st.text())
    @example("\ud800 = 1")
    def test_any_text_is_survived(self, text: str) -> None:
        check_any_text(text)

    @given(fragments)
    def test_pieces_of_toml_in_any_order_are_survived(self, text: str) -> None:
        check_any_text(text)
