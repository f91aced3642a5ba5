"""Files that cannot be read, are not what they should be, or are not TOML."""

import os
import sys
import time

import pytest
from building import CONFIGURATION
from every_case import every_case

from upgrade_planner.cli import main
from upgrade_planner.configuration.files.headers import header_of
from upgrade_planner.configuration.files.shipped import (
    PROFILE_FOLDERS,
    UnknownProfile,
    shipped_profiles,
)
from upgrade_planner.configuration.files.texts import LARGEST_FILE_BYTES
from upgrade_planner.configuration.files.toml_files import read_toml
from upgrade_planner.configuration.loading import load_configuration, load_configurations
from upgrade_planner.configuration.structuring.entries import FORMAT
from upgrade_planner.errors import ConfigurationError, PlannerError

EXAMPLE = "a profile; `upgrade-planner show NAME` prints an example"


def refusal(path):
    """The one problem of a configuration file."""
    with pytest.raises(ConfigurationError) as caught:
        load_configuration(str(path))
    (problem,) = caught.value.problems
    assert problem.file == str(path)
    return problem


class TestKindsOfFile:
    def test_folder(self, tmp_path):
        problem = refusal(tmp_path)
        assert (problem.found, problem.expected) == ("a folder", "a TOML file")

    def test_device(self):
        assert refusal(os.devnull).found == "a device"

    @pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="no pipes here")
    def test_pipe_is_refused_without_waiting_for_a_writer(self, tmp_path):
        os.mkfifo(tmp_path / "pipe.toml")
        assert refusal(tmp_path / "pipe.toml").found == "a pipe"

    @pytest.mark.skipif(not hasattr(os, "geteuid") or os.geteuid() == 0, reason="root reads all")
    def test_file_without_permission(self, garage):
        garage.path("configuration").chmod(0)
        found = refusal(garage.path("configuration")).found
        assert found == "a file that cannot be read (permission denied)"

    def test_file_that_fails_while_it_is_read(self, garage, monkeypatch):
        def fail(*_, **__):
            raise OSError(5, "Input/output error")

        monkeypatch.setattr("pathlib.Path.open", fail)
        problem = refusal(garage.path("configuration"))
        assert problem.found == "a file that cannot be read (input/output error)"
        assert problem.expected == "a TOML file that can be read"

    @every_case("text", ["", " \n\t\n", "\N{BYTE ORDER MARK}"])
    def test_empty_file(self, garage, text):
        problem = refusal(garage.write("configuration", text))
        assert (problem.line, problem.found, problem.expected) == (0, "an empty file", EXAMPLE)

    def test_file_of_comments(self, garage):
        problem = refusal(garage.write("configuration", "# a van\n\n# to be done\n"))
        assert (problem.line, problem.found) == (0, "nothing but comments")

    def test_huge_file(self, garage):
        problem = refusal(garage.write("configuration", "#" * 5_000_000))
        assert problem.found == "a file of 5.0 MB"
        assert problem.expected == "a TOML file of at most 1 MB"

    def test_file_of_the_largest_size_is_read(self, garage):
        comment = "#" * (LARGEST_FILE_BYTES - len(CONFIGURATION.encode()))
        garage.write("configuration", CONFIGURATION + comment)
        assert garage.problems() == ()

    def test_another_sort_of_profile(self, garage):
        problem = refusal(garage.path("vehicle"))
        assert problem.found == "a vehicle"
        assert problem.expected == "a configuration, with a table [configuration]"

    def test_system_that_is_a_vehicle(self, garage):
        garage.spoil("configuration", "ignition.toml", "vehicle.toml")
        (problem,) = garage.problems()
        assert problem.file == str(garage.path("vehicle"))
        assert problem.found == "a vehicle"
        assert problem.expected == "a system, with a table [system]"


class TestEncoding:
    @every_case("encoding", ["utf-16-le", "utf-16-be"])
    def test_utf_16_without_its_mark_is_named(self, garage, encoding):
        garage.path("configuration").write_bytes(CONFIGURATION.encode(encoding))
        problem = refusal(garage.path("configuration"))
        assert problem.found == "UTF-16 text without its byte order mark"
        assert problem.expected == "a text file saved as UTF-8"

    def test_byte_that_is_not_utf8_is_told_with_line_and_column(self, garage):
        text = CONFIGURATION.replace('"As built."', '"Käfig, café."').encode()
        spoilt = text.replace("é".encode(), b"\xe9")
        garage.path("configuration").write_bytes(spoilt)
        problem = refusal(garage.path("configuration"))
        assert (problem.line, problem.column) == (3, len('summary = "Käfig, caf') + 1)
        assert problem.found == "byte 0xE9, which is not UTF-8 text"
        assert problem.expected == "a text file saved as UTF-8"

    def test_utf16_with_its_mark_is_read(self, garage):
        plain = garage.load().digest
        garage.path("configuration").write_bytes(CONFIGURATION.encode("utf-16"))
        assert garage.load().digest == plain

    def test_bad_base_says_which_file_asked_for_it(self, tmp_path):
        base, mine = tmp_path / "base.toml", tmp_path / "mine.toml"
        base.write_text("[configuration\n")
        mine.write_text('[configuration]\ntitle = "a"\nsummary = "b"\nbased_on = "base.toml"\n')
        with pytest.raises(ConfigurationError) as caught:
            load_configuration(str(mine))
        (problem,) = caught.value.problems
        assert problem.file == str(base)
        assert problem.expected.endswith(f"{mine} is based on this file")

    def test_file_that_is_no_profile_is_named_and_none_of_it_shown(self, tmp_path):
        path = tmp_path / "passwd"
        path.write_text("root:x:0:0:root:/root:/bin/sh\n")
        with pytest.raises(ConfigurationError) as caught:
            load_configuration(str(path))
        (problem,) = caught.value.problems
        assert problem.found == "a file that is not TOML"

    def test_byte_order_mark_is_accepted(self, garage):
        plain = garage.load().digest
        garage.path("configuration").write_bytes(b"\xef\xbb\xbf" + CONFIGURATION.encode())
        assert garage.load().digest == plain

    def test_lines_that_end_as_on_other_systems(self, garage):
        plain = garage.load().digest
        for name in ("vehicle", "ignition", "charging", "configuration"):
            text = garage.text(name)
            garage.path(name).write_bytes(text.replace("\n", "\r\n").encode())
        assert garage.load().digest == plain

    @every_case("character", ["\0", "\x07", "\x1b", "\x7f"])
    def test_control_character_in_a_text(self, garage, character):
        garage.spoil("configuration", "Little van", f"Little«{character} van")
        problem = garage.only_problem()
        assert problem.subject == "title"
        assert problem.found == f"the character U+{ord(character):04X}"
        assert problem.expected == "a text without control characters"

    def test_separators_that_are_not_line_ends_do_not_count_as_lines(self, garage):
        garage.spoil("configuration", "[configuration]", "# \u2028 \x85\n[configuration]")
        garage.add("configuration", "nothing «3")
        assert garage.only_problem().expected == "= after the key"


SYNTAX = {
    "text without quotes": (
        'title = "Little van as built"',
        "title = «Little van",
        "title",
        "'Little van'",
        'a value: a text in "quotes", a bare number',
    ),
    "unit without quotes": (
        'title = "Little van as built"',
        "title = 12 «V",
        "title",
        "'V'",
        'the end of the line; a text stands in "quotes"',
    ),
    "quote that is not closed": (
        'title = "Little van as built"',
        'title = "Little van«',
        "title",
        "the end of the line",
        'a closing " on the same line',
    ),
    "apostrophe that is not closed": (
        'title = "Little van as built"',
        "title = 'Little van«",
        "title",
        "the end of the line",
        "a closing ' on the same line",
    ),
    "no equals sign": (
        'title = "Little van as built"',
        'title «"Little van"',
        "",
        "'\"Little van\"'",
        "= after the key",
    ),
    "no value": (
        'title = "Little van as built"',
        "title =«",
        "title",
        "the end of the line",
        'a value: a text in "quotes"',
    ),
    "backslash": (
        'title = "Little van as built"',
        r'title = "Little «\van"',
        "title",
        r"'\van" + "\"'",
        r"\\ for each \ in the text",
    ),
    "bad escape": (
        'title = "Little van as built"',
        r'title = "\u«12"',
        "title",
        "'12\"'",
        r"\u and four hexadecimal digits",
    ),
    "impossible date": (
        'title = "Little van as built"',
        "title = «2026-02-31",
        "title",
        "'2026-02-31'",
        "a date such as 2026-03-01",
    ),
    "header that is not closed": (
        "[systems]",
        "[systems«",
        "",
        "the end of the line",
        "] after the name of the table",
    ),
    "stray bracket": (
        "[systems]",
        "«]\n[systems]",
        "",
        "']'",
        'a line such as key = "text", or a header',
    ),
    "table given twice": (
        "[systems]",
        "[systems]\n«[systems]",
        "",
        "[systems], which stands above already",
        "all its keys in one place",
    ),
    "key given twice": (
        'vehicle = "vehicle.toml"',
        'vehicle = "vehicle.toml"\n«vehicle = "van.toml"',
        "vehicle",
        "'vehicle' given a second time",
        "'vehicle' once under [configuration]",
    ),
    "two systems for one slot": (
        'charging = "charging.toml"',
        'charging = "charging.toml"\n«charging = "other.toml"',
        "charging",
        "'charging' given a second time",
        "one system for the slot 'charging'",
    ),
    "key with a list given twice": (
        "[systems]",
        "[changes]\nremove_wires = []\n«remove_wires = [\n]\n[systems]",
        "remove_wires",
        "'remove_wires' given a second time",
        "once under [changes]",
    ),
    "key of a wire given twice": (
        "[systems]",
        '[changes]\nchange_wires = [ { id = "key-feed", size = "8 SAE", «size = "4 SAE" } ]\n'
        "[systems]",
        "key-feed",
        "'size' given a second time",
        "'size' once",
    ),
    "list that is not closed": (
        "[systems]",
        '[changes]\nremove_wires = [\n  "lamp-feed",\n\n[«systems]',
        "",
        "the header [systems] inside a list",
        "] for the [ in line 7",
    ),
    "comma that is missing": (
        "[systems]",
        '[changes]\nremove_wires = [\n  "lamp-feed"\n  «"key-feed"\n]\n[systems]',
        "",
        "'\"key-feed\"'",
        "a comma or ] after the value",
    ),
    "comma before the brace": (
        "[systems]",
        '[changes]\nchange_wires = [\n{ id = "key-feed", «},\n]\n[systems]',
        "key-feed",
        "'},'",
        "no comma before }, and the whole table on one line",
    ),
    "wire on two lines": (
        "[systems]",
        '[changes]\nchange_wires = [\n{ id = "key-feed",«\nsize = "4 SAE" },\n]\n[systems]',
        "key-feed",
        "the end of the line",
        "the whole table on one line",
    ),
    "keys after the braces were closed": (
        "[systems]",
        "[overrides]\ncoil = {}\n«[overrides.coil]\n[systems]",
        "",
        "[overrides.coil], which stands above already",
        "all its keys in one place",
    ),
}


class TestSyntax:
    @every_case("case", SYNTAX.values())
    def test_mistake_is_told_in_words_at_its_place(self, garage, case):
        old, new, subject, found, expected = case
        problem = garage.spoil("configuration", old, new).only_problem()
        assert (problem.subject, problem.found) == (subject, found)
        assert expected in problem.expected

    def test_list_that_is_not_closed_by_the_end_of_the_file(self, garage):
        garage.add("configuration", "[changes]\nremove_wires = [\n  'key-feed',«\n")
        problem = garage.only_problem()
        assert problem.found == "the end of the file"
        assert problem.expected == "] for the [ in line 11"

    def test_mistakes_on_lines_of_their_own_are_told_together(self, garage):
        garage.spoil("configuration", 'title = "Little', 'title = "«Little" "')
        garage.spoil("configuration", "[systems]", "owner = «nobody\n[systems]")
        garage.add("configuration", "[changes]\nadd_wires = [\n  { id = a },\n")
        problems = garage.problems()
        assert [problem.line for problem in problems] == [2, 6, 13, 13]

    def test_key_given_twice_does_not_hide_what_else_is_wrong(self, garage):
        garage.spoil("vehicle", "walk = 2", "walk = 2\n«walk = 5")
        garage.spoil("vehicle", 'space = "cabin"', '«space = "cabn"')
        garage.spoil("ignition", 'to = "coil.positive"', '«to = "coil.plus"')
        garage.assert_at_marks(garage.problems())

    @every_case("bracket", ["[", "{ a = "])
    def test_thousands_of_nested_brackets(self, garage, bracket):
        garage.add("configuration", f"[changes]\nnote = {bracket * 2000}")
        (problem,) = garage.problems()
        assert problem.line == 11
        assert problem.found == "brackets nested more than 50 deep"

    def test_brackets_in_texts_and_comments_do_not_count(self, garage):
        brackets = "[" * 300
        garage.spoil("configuration", "As built.", f'{brackets} \\" {brackets}')
        garage.add("configuration", f"# {brackets}\n[as_found]\nnote = '''\n{brackets}\n'''")
        assert garage.problems() == ()

    def test_endless_dotted_key(self, garage):
        garage.add("configuration", "«" + "a." * 200_000 + "b = 1")
        assert garage.only_problem().found == "more than 200 dots"

    def test_number_of_thousands_of_digits(self, garage):
        garage.add("configuration", "[changes]\nnote = " + "9" * 5000)
        (problem,) = garage.problems()
        assert problem.found == "a number of thousands of digits"

    @every_case(
        "text",
        [
            '"""' * 25_001,
            "'''" * 25_001,
            'a = "' + '\\"' * 100_000,
            "a = '''" + "x" * 225_000,
            'a = "' * 50_000,
            "a = [" + "1," * 100_000,
            "[[place]]\n" * 22_500,
            "[configuration]\n" + "title = 1\n" * 22_500,
            "a" * 225_000,
        ],
    )
    def test_hostile_text_is_refused_in_seconds(self, garage, text):
        """The limit goes with the size: four times as long a text is read at all."""
        garage.write("configuration", text)
        begun = time.process_time()
        assert garage.problems()
        assert time.process_time() - begun < 5 / 4


class TestFormat:
    @every_case("kind", ["vehicle", "configuration", "ignition"])
    def test_a_file_that_says_none_is_read_as_the_first_one(self, garage, kind):
        header = "[system]" if kind == "ignition" else f"[{kind}]"
        assert "format =" not in garage.path(kind).read_text(encoding="utf-8")
        named = garage.spoil(kind, header, f"{header}\nformat = 1")
        assert named.load().digest

    @every_case("kind", ["vehicle", "configuration", "ignition"])
    @every_case(("given", "shown"), [("2", "2"), ('"1"', '"1"'), ("true", "true")])
    def test_another_one_is_refused_and_nothing_else_of_the_file_is_judged(
        self, garage, kind, given, shown
    ):
        header = "[system]" if kind == "ignition" else f"[{kind}]"
        garage.spoil(kind, header, f"{header}\nformat = {given}\nunheard_of = 1")
        (problem,) = garage.problems()
        assert problem.file == str(garage.path(kind))
        lines = garage.path(kind).read_text(encoding="utf-8").splitlines()
        assert lines[problem.line - 1] == f"format = {given}"
        assert problem.found == shown
        assert problem.expected == "1, the format that is read here"

    @every_case("kind", PROFILE_FOLDERS)
    def test_every_shipped_profile_says_its_format(self, kind):
        headers = (header_of(kind, path) for path in shipped_profiles(kind).values())
        assert {header["format"] for header in headers} == {FORMAT}


class TestNames:
    @every_case(
        ("name", "hint"),
        [
            ("van_upgradet", "(did you mean 'van_upgraded'?); expected a file, or one of "),
            ("no such thing", "is neither a file nor a shipped configuration; expected a file, or"),
            ("carrier_van", "'carrier_van', which is a vehicle, not a configuration"),
            ("", "'', which is neither a file nor a shipped configuration"),
            ("nowhere/van.toml", "'nowhere/van.toml', in a folder that does not exist"),
            ("~nobody-of-that-name/van.toml", "a name that cannot be looked up"),
            ("x" * 5000, "a name that cannot be looked up (file name too long)"),
            ("a\0b", "which is neither a file nor a shipped configuration"),
        ],
    )
    def test_unknown_name_is_answered_with_what_there_is(self, name, hint):
        with pytest.raises(UnknownProfile) as caught:
            load_configuration(name)
        assert hint in str(caught.value)

    def test_misspelt_file_is_answered_with_the_nearest_in_its_folder(self, garage):
        name = str(garage.path("configuration")).replace("configuration", "configurattion")
        with pytest.raises(UnknownProfile) as caught:
            load_configuration(name)
        assert "did you mean 'configuration.toml'?" in str(caught.value)

    def test_dangling_link(self, tmp_path):
        (tmp_path / "link.toml").symlink_to(tmp_path / "gone.toml")
        with pytest.raises(UnknownProfile) as caught:
            load_configuration(str(tmp_path / "link.toml"))
        assert "a link to a file that is not there" in str(caught.value)

    def test_link_that_leads_to_itself(self, tmp_path):
        (tmp_path / "link.toml").symlink_to(tmp_path / "link.toml")
        with pytest.raises(UnknownProfile):
            load_configuration(str(tmp_path / "link.toml"))

    def test_path_with_spaces_and_other_letters(self, garage, tmp_path):
        folder = tmp_path / "Käfer & Söhne, 車両 [1]"
        folder.mkdir()
        for name in ("vehicle", "ignition", "charging", "configuration"):
            garage.path(name).rename(folder / f"{name}.toml")
        assert load_configuration(str(folder / "configuration.toml")).name == "configuration"

    @every_case(
        ("old", "new", "subject", "found"),
        [
            (
                'vehicle = "vehicle.toml"',
                '«vehicle = "vehicles.toml"',
                "vehicle",
                "'vehicles.toml', which is neither a file nor a shipped vehicle (did you mean "
                "'vehicle.toml'?)",
            ),
            (
                'vehicle = "vehicle.toml"',
                '«vehicle = "points_ballast"',
                "vehicle",
                "'points_ballast', which is a system, not a vehicle",
            ),
            (
                'ignition = "ignition.toml"',
                '«ignition = "points_balast"',
                "ignition",
                "'points_balast', which is neither a file nor a shipped system (did you mean "
                "'points_ballast'?)",
            ),
        ],
    )
    def test_name_in_a_file_is_told_with_its_place(self, garage, old, new, subject, found):
        problem = garage.spoil("configuration", old, new).only_problem()
        assert (problem.subject, problem.found) == (subject, found)
        assert problem.expected.startswith("a file, or one of")

    def test_read_toml_raises_what_the_reader_reports(self, garage):
        garage.spoil("vehicle", "walk = 2", "walk = 2\nwalk = 5")
        with pytest.raises(ConfigurationError, match="'walk' given a second time"):
            read_toml(garage.path("vehicle"))


class TestCommand:
    def test_problems_are_printed_and_the_exit_code_is_2(self, garage, monkeypatch, capsys):
        garage.spoil("vehicle", 'space = "cabin"', 'space = "cabn"')
        garage.spoil("ignition", 'colour = "BU"', 'colour = "PINK"')
        target = garage.folder / "sheet.json"
        name = str(garage.path("configuration"))
        arguments = ["upgrade-planner", "worksheet", name, name, "-o", str(target)]
        monkeypatch.setattr(sys, "argv", arguments)
        with pytest.raises(SystemExit) as caught:
            main()
        assert caught.value.code == 2
        printed = capsys.readouterr()
        assert [
            line.rpartition("/")[2].split(": found")[0] for line in printed.err.splitlines()
        ] == [
            "ignition.toml:28:116: ignition-feed colour",
            "vehicle.toml:26:1: dash space",
        ]
        assert printed.out == ""
        assert not target.exists()

    @pytest.mark.parametrize("name", ["~nobody-of-that-name/van.toml", "x" * 5000, "a\tb"])
    @pytest.mark.parametrize("command", ["show", "compare"])
    def test_odd_names_are_refused(self, name, command, monkeypatch, capsys):
        names = [name] * (2 if command == "compare" else 1)
        monkeypatch.setattr(sys, "argv", ["upgrade-planner", command, *names])
        with pytest.raises(SystemExit) as caught:
            main()
        assert caught.value.code == 2
        assert capsys.readouterr().err.count("found '") == 1


class TestSeveralConfigurations:
    def test_unknown_name_does_not_hide_the_problems_of_the_other(self, garage):
        garage.spoil("vehicle", 'space = "cabin"', 'space = "cabn"')
        with pytest.raises(PlannerError) as caught:
            load_configurations("van_upgradet", str(garage.path("configuration")))
        unknown, spoilt = str(caught.value).splitlines()
        assert unknown.startswith("found 'van_upgradet', which is neither a file nor a shipped")
        assert spoilt.startswith(f"{garage.path('vehicle')}:")

    def test_one_unknown_name_alone_stays_what_it_is(self):
        with pytest.raises(UnknownProfile):
            load_configurations("van_upgraded", "van_upgradet")

    def test_problems_of_all_are_reported_together_and_once(self, garage):
        other = garage.text("configuration").replace("[systems]", "owner = 1\n[systems]")
        garage.write("other", other)
        garage.spoil("vehicle", 'space = "cabin"', 'space = "cabn"')
        names = [str(garage.path(name)) for name in ("configuration", "other")]
        with pytest.raises(ConfigurationError) as caught:
            load_configurations(*names)
        subjects = [problem.subject for problem in caught.value.problems]
        assert subjects == ["configuration owner", "dash space"]

    def test_sound_ones_come_in_the_order_of_their_names(self, garage):
        garage.write("other", garage.text("configuration"))
        names = [str(garage.path(name)) for name in ("other", "configuration")]
        assert [item.name for item in load_configurations(*names)] == ["other", "configuration"]
