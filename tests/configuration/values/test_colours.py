"""Letter codes of wire colours."""

import pytest
from every_case import every_case
from hypothesis import given
from hypothesis import strategies as st

from upgrade_planner.configuration.values.colours import (
    COLOUR_WORDS,
    Colour,
    ColourError,
    parse_colour,
    parse_spoken_colour,
)

single_codes = sorted(set(COLOUR_WORDS) - {"GNYE"})


class TestCodes:
    # IEC 757:1983 = GOST 28763-90 (national copy), table
    @every_case(
        ("code", "word"),
        [
            ("BK", "black"),
            ("BN", "brown"),
            ("RD", "red"),
            ("OG", "orange"),
            ("YE", "yellow"),
            ("GN", "green"),
            ("BU", "blue"),
            ("VT", "violet"),
            ("GY", "grey"),
            ("WH", "white"),
            ("PK", "pink"),
            ("GD", "gold"),
            ("TQ", "turquoise"),
            ("SR", "silver"),
            ("GNYE", "green-and-yellow"),
        ],
    )
    def test_code_stands_for_its_word(self, code, word):
        colour = parse_colour(code)
        assert (colour.code, colour.words, colour.label) == (code, word, f"{code} {word}")

    def test_tracer_follows_the_main_colour(self):
        colour = parse_colour("RD/WH")
        assert colour == Colour("RD", "WH")
        assert colour.code == "RD/WH"
        assert colour.words == "red/white"
        assert colour.label == "RD/WH red with white tracer"

    @every_case("text", ["rd/wh", " RD / WH ", "Rd/wH", "RD/\N{NO-BREAK SPACE}WH"])
    def test_case_and_spaces_do_not_matter(self, text):
        assert parse_colour(text).code == "RD/WH"

    def test_green_with_yellow_tracer_is_kept_as_written(self):
        assert parse_colour("GN/YE").label == "GN/YE green with yellow tracer"
        assert parse_colour("GN/YE") != parse_colour("GNYE")

    @given(st.sampled_from(single_codes), st.sampled_from([None, *single_codes]))
    def test_printed_code_reads_back(self, main, tracer):
        colour = Colour(main, tracer if tracer != main else None)
        assert parse_colour(colour.code) == colour

    @every_case("codes", [("RT",), ("RD", "red")])
    def test_colour_holds_known_codes_only(self, codes):
        with pytest.raises(ValueError, match="must be in"):
            Colour(*codes)


class TestFaults:
    @every_case(
        ("text", "nearest"),
        [
            ("red", "RD"),
            ("Grey", "GY"),
            ("purple", "VT"),
            ("light blue", "BU"),
            ("green-and-yellow", "GNYE"),
        ],
    )
    def test_english_word_is_answered_with_its_code(self, text, nearest):
        with pytest.raises(ColourError) as caught:
            parse_colour(text)
        assert caught.value.nearest == (nearest,)
        assert caught.value.expected == f"the letter code of {text.lower()}, {nearest}"

    @every_case(
        ("text", "nearest"),
        [
            ("red/white", "RD/WH"),
            ("red + white", "RD/WH"),
            ("RDWH", "RD/WH"),
            ("RD-WH", "RD/WH"),
            ("RD/", "RD"),
            ("RT", "RD"),
            ("RD/WX", "RD/WH"),
            ("blck", "BK"),
            ("yelow", "YE"),
        ],
    )
    def test_slip_is_answered_with_the_nearest_code(self, text, nearest):
        with pytest.raises(ColourError) as caught:
            parse_colour(text)
        assert nearest in caught.value.nearest
        assert len(caught.value.nearest) <= 3
        assert "letter codes such as RD or RD/WH" in caught.value.expected

    @every_case(
        ("text", "expected", "nearest"),
        [
            ("RD/WH/BK", "at most one tracer", ("RD/WH", "RD/BK")),
            ("RD/RD", "a tracer of another colour, or none", ("RD",)),
            ("GNYE/RD", "GNYE alone", ("GNYE",)),
            ("RD/GNYE", "GNYE alone", ("GNYE",)),
        ],
    )
    def test_impossible_combination_is_refused(self, text, expected, nearest):
        with pytest.raises(ColourError) as caught:
            parse_colour(text)
        assert expected in caught.value.expected
        assert caught.value.nearest == nearest

    @every_case("text", ["red/red", "RD-RD", "red/GNYE", "green-and-yellow/red"])
    def test_impossible_combination_in_words_gets_no_suggestion_that_would_fail(self, text):
        with pytest.raises(ColourError) as caught:
            parse_colour(text)
        assert all(parse_colour(suggestion) for suggestion in caught.value.nearest)

    @every_case("text", ["", " ", "/", "xyz", "?", "grün" * 9999])
    def test_nonsense_is_refused(self, text):
        with pytest.raises(ColourError) as caught:
            parse_colour(text)
        assert "" not in caught.value.nearest

    @every_case("value", [None, 3, True, ["RD"]])
    def test_value_that_is_no_text_is_refused(self, value):
        with pytest.raises(ColourError, match="a colour code in quotes"):
            parse_colour(value)

    @given(st.text(max_size=30))
    def test_any_text_gives_a_colour_or_a_colour_error(self, text):
        try:
            colour = parse_colour(text)
        except ColourError as error:
            for suggestion in error.nearest:
                assert parse_colour(suggestion)
        else:
            assert parse_colour(colour.code) == colour


@every_case(
    ("written", "code"),
    [
        ("red", "RD"),
        ("Red / White", "RD/WH"),
        ("blue with yellow tracer", "BU/YE"),
        ("gn/ye", "GN/YE"),
    ],
)
def test_colours_as_people_write_them(written, code):
    assert parse_spoken_colour(written).code == code


def test_an_unknown_word_is_told_as_for_a_code():
    with pytest.raises(ColourError):
        parse_spoken_colour("reddish")
