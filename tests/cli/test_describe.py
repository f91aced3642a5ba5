"""`describe`: a whole dialogue through a pipe and through a terminal, answers from a file."""

import os
import pty
import select
import signal
import sys
import time

import pytest
from every_case import every_case
from in_process import few

from upgrade_planner.checks.checking import check
from upgrade_planner.configuration.loading import load_configuration
from upgrade_planner.documents.profiles.described_changes import overrides_of
from upgrade_planner.errors import PlannerError
from upgrade_planner.jobs.describe import describe
from upgrade_planner.library.proposing import Proposal, proposals
from upgrade_planner.library.questions import (
    AnswerError,
    completed,
    questions,
    read_answer,
)
from upgrade_planner.library.trait_matching import match_of
from upgrade_planner.library.traits import traits_of

VAN = {
    "name": "The baker's van",
    "body": "delivery van",
    "engine": "straight six",
    "cylinders": "6",
    "voltage": "12 V",
    "ground": "negative",
    "charging": "alternator_field_relay",
    "ignition": "points with ballast resistor",
    "starting": "solenoid_bypass",
    "indicator": "charge lamp",
    "fuses": "1, 4",
    "connector": "yes",
    "battery": "engine bay",
    "regulator_place": "inner wing left",
    "coil_place": "bulkhead engine side",
    "junction_place": "",
    "battery_to_starter": "1.75 m",
    "battery_to_ground": "",
    "battery_to_junction": "",
    "generator_to_junction": "5 ft 2 in",
}


def typed(answers, choice="1"):
    """What a person types: an answer to each question, then the proposal."""
    return "\n".join([*(answers.get(q.key, "") for q in asked(answers)), choice]) + "\n"


def asked(answers):
    """The questions that are asked: only a dynamo has a field circuit."""
    has_dynamo = "dynamo" in answers.get("charging", "")
    return [q for q in questions() if q.key != "field_circuit" or has_dynamo]


def answer_file(folder, answers, name="answers.txt"):
    text = "".join(f"{key} = {value}\n" for key, value in answers.items())
    (folder / name).write_text(text, encoding="utf-8")
    return name


def question(key):
    return next(q for q in questions() if q.key == key)


class TestSession:
    def test_a_whole_session_writes_a_configuration_that_loads(self, run, tmp_path):
        done = run("describe", "-o", "my.toml", cwd=tmp_path, text=typed(VAN))
        assert done.returncode == 0, done.stderr
        loaded = load_configuration(str(tmp_path / "my.toml"))
        assert loaded.title == "The baker's van"
        assert loaded.vehicle.name == "carrier_van"
        assert loaded.systems["ignition"] == "points_ballast"
        assert loaded.systems["charging"] == "alternator_external_regulator"

    def test_measured_lengths_are_those_of_the_wires(self, run, tmp_path):
        run("describe", "-o", "my.toml", cwd=tmp_path, text=typed(VAN))
        runs = load_configuration(str(tmp_path / "my.toml")).runs
        assert runs["starter-cable"].measured
        assert runs["starter-cable"].length_m == pytest.approx(1.75)
        assert runs["charge-output"].length_m == pytest.approx(62 * 0.0254)
        assert not runs["battery-ground"].measured

    def test_doubts_stand_on_top_and_what_differs_is_a_todo(self, run, tmp_path):
        answers = {**VAN, "ground": "positive", "ignition": "", "charging": "external"}
        run("describe", "-o", "my.toml", cwd=tmp_path, text=typed(answers))
        text = (tmp_path / "my.toml").read_text(encoding="utf-8")
        head = text.partition("[configuration]")[0]
        assert "NOT KNOWN" in head
        assert question("ignition").ask in head
        assert "So far: 'external'" in head
        assert question("voltage").ask not in head

    def test_wrong_answers_are_asked_again(self, run, tmp_path):
        text = typed({**VAN, "voltage": "seven\n12"})
        done = run("describe", "-o", "my.toml", cwd=tmp_path, text=text)
        assert 'found "seven"; expected 6, 12 or 24 V' in done.stdout
        assert load_configuration(str(tmp_path / "my.toml")).vehicle.voltage_v == 12

    def test_back_changes_an_answer_and_help_shows_more(self, run, tmp_path):
        text = typed({**VAN, "body": "?\nback\nOther name\ndelivery van"})
        done = run("describe", "-o", "my.toml", cwd=tmp_path, text=text)
        assert done.returncode == 0, done.stderr
        assert question("body").more.split(".")[0] in done.stdout
        assert load_configuration(str(tmp_path / "my.toml")).title == "Other name"

    def test_back_at_the_first_question_stays_there(self, run, tmp_path):
        done = run("describe", "-o", "my.toml", cwd=tmp_path, text="back\n" + typed(VAN))
        assert "This is the first question" in done.stdout
        assert load_configuration(str(tmp_path / "my.toml")).title == VAN["name"]

    def test_back_from_the_proposals_asks_the_last_question_again(self, run, tmp_path):
        done = run(
            "describe", "-o", "my.toml", cwd=tmp_path, text=typed(VAN, choice="back\n0.9 m\n1")
        )
        assert done.returncode == 0, done.stderr
        loaded = load_configuration(str(tmp_path / "my.toml"))
        assert loaded.runs["charge-output"].length_m == pytest.approx(0.9)

    def test_the_choice_may_be_another_one(self, run, tmp_path):
        done = run("describe", "-o", "my.toml", cwd=tmp_path, text=typed(VAN, choice="99\n?\n2"))
        assert "expected a number from 1 to" in done.stdout
        assert done.returncode == 0, done.stderr
        text = (tmp_path / "my.toml").read_text(encoding="utf-8")
        assert "based_on = " in text or "vehicle = " in text

    def test_nothing_known_still_gives_a_file_that_loads(self, run, tmp_path):
        done = run("describe", "-o", "my.toml", cwd=tmp_path, text=typed({}))
        assert done.returncode == 0, done.stderr
        assert "Nothing is known" in done.stdout
        load_configuration(str(tmp_path / "my.toml"))

    @every_case("count", [0, 3, len(questions()) - 1])
    def test_end_of_input_leaves_nothing(self, run, tmp_path, count):
        text = "".join(f"{VAN[q.key]}\n" for q in asked(VAN)[:count])
        done = run("describe", "-o", "my.toml", cwd=tmp_path, text=text)
        assert done.returncode == 2
        assert done.stderr.strip() == "describe: broken off, nothing was written"
        assert not list(tmp_path.iterdir())


class Terminal:
    """The program on a pseudo-terminal, as a person sees it."""

    def __init__(self, folder, call=("describe", "-o", "my.toml")):
        self.process, self.master = pty.fork()
        if not self.process:  # the child: it becomes the program
            os.chdir(folder)
            signal.signal(signal.SIGINT, signal.SIG_DFL)  # ignored where tests run in background
            command = [sys.executable, "-m", "upgrade_planner", *call]
            os.execve(sys.executable, command, {**os.environ, "TERM": "dumb", "COLUMNS": "80"})
        self.shown = ""

    def wait_for(self, text, seconds=60):
        """Reads until a text is shown; what was shown until then is taken away."""
        deadline = time.monotonic() + seconds
        while text not in self.shown:
            assert time.monotonic() < deadline, f"{text!r} was not shown: {self.shown[-500:]}"
            if select.select([self.master], [], [], 0.2)[0]:
                self.shown += os.read(self.master, 4096).decode(errors="replace")
        self.shown = self.shown.partition(text)[2]

    def type(self, text):
        os.write(self.master, text.encode())

    def end(self, again=""):
        """Exit code; what was left to read is in `shown`. A person types `again` after a while."""
        deadline = time.monotonic() + 60
        while True:
            if not select.select([self.master], [], [], 2)[0]:
                if time.monotonic() > deadline:
                    os.kill(self.process, signal.SIGKILL)
                self.type(again)
                continue
            try:
                data = os.read(self.master, 4096)
            except OSError:  # the other end is closed
                break
            if not data:
                break
            self.shown += data.decode(errors="replace")
        _, status = os.waitpid(self.process, 0)
        os.close(self.master)
        return os.waitstatus_to_exitcode(status)


class TestTerminal:
    def test_a_person_at_a_terminal(self, tmp_path):
        terminal = Terminal(tmp_path)
        for number, asked in enumerate(questions(), start=1):
            if asked.key not in VAN:
                continue
            terminal.wait_for(f"{number} of {len(questions())}: ")
            terminal.wait_for("> ")
            terminal.type(f"{VAN[asked.key]}\r")
        terminal.wait_for("Which one shall your file start from?")
        terminal.wait_for("> ")
        terminal.type("\r")
        assert terminal.end() == 0
        assert "my.toml: starts from" in terminal.shown
        assert load_configuration(str(tmp_path / "my.toml")).vehicle.name == "carrier_van"

    def test_the_bare_command_starts_the_dialogue(self, tmp_path):
        terminal = Terminal(tmp_path, ())
        terminal.wait_for("1 of 4: your car as it is.")
        terminal.wait_for("> ")
        terminal.type("\x03")
        assert terminal.end("\x03") == 2

    def test_ctrl_c_is_one_line_and_exit_code_2(self, tmp_path):
        terminal = Terminal(tmp_path)
        terminal.wait_for("1 of ")
        terminal.wait_for("> ")
        terminal.type("A name\r")
        terminal.wait_for("2 of ")
        terminal.wait_for("> ")
        terminal.type("\x03")
        assert terminal.end(again="\x03") == 2
        assert "broken off, nothing was written" in terminal.shown
        assert "Traceback" not in terminal.shown
        assert not list(tmp_path.iterdir())


class TestAnswerFile:
    def test_the_same_answers_give_the_same_file(self, run, tmp_path):
        run("describe", "-o", "asked.toml", cwd=tmp_path, text=typed(VAN, choice=""))
        done = run(
            "describe", "--answers", answer_file(tmp_path, VAN), "-o", "read.toml", cwd=tmp_path
        )
        assert done.returncode == 0, done.stderr
        asked, read = ((tmp_path / name).read_text() for name in ("asked.toml", "read.toml"))
        assert asked == read

    def test_the_template_can_be_read_as_it_is(self, run, tmp_path):
        done = run("describe", "--questions", "answers.toml", cwd=tmp_path)
        assert done.returncode == 0, done.stderr
        text = (tmp_path / "answers.toml").read_text(encoding="utf-8")
        assert all(f'\n{q.key} = ""\n' in text for q in questions())
        done = run("describe", "--answers", "answers.toml", "-o", "my.toml", cwd=tmp_path)
        assert done.returncode == 0, done.stderr
        load_configuration(str(tmp_path / "my.toml"))

    def test_toml_values_and_bare_ones_are_both_read(self, run, tmp_path):
        lines = [
            'name = "Van" # as we say',
            "voltage = 12",
            "ground = negative # looked twice",
            'indicator = ["charge lamp", "ammeter"]',
            "connector = true",
            "battery_to_starter = '1.2 m'",
            "# coil_place = x",
            "",
        ]
        (tmp_path / "a.txt").write_text("\n".join(lines))
        done = run("describe", "--answers", "a.txt", "-o", "my.toml", cwd=tmp_path)
        assert done.returncode == 0, done.stderr
        assert load_configuration(str(tmp_path / "my.toml")).title == "Van"

    def test_based_on_chooses(self, run, tmp_path):
        name = answer_file(tmp_path, {**VAN, "based_on": "tractor_original"})
        done = run("describe", "--answers", name, "-o", "my.toml", cwd=tmp_path)
        assert done.returncode == 0, done.stderr
        assert load_configuration(str(tmp_path / "my.toml")).vehicle.name == "row_tractor"

    def test_all_faults_at_once_with_their_lines(self, run, tmp_path):
        lines = [
            "voltage = 7",
            "# a comment",
            "voltge = 12",
            "ground = left",
            "cylinders = many",
            "battery_to_starter = 12 ells",
            "just words",
            "ignition = steam",
            "name = [1",
            "body = van",
            "body = boat",
            "based_on = van_upgradet",
        ]
        (tmp_path / "a.txt").write_text("\n".join(lines))
        done = run("describe", "--answers", "a.txt", "-o", "my.toml", cwd=tmp_path)
        assert done.returncode == 2
        told = {int(row.split(":")[1]): row for row in done.stderr.splitlines()}
        assert sorted(told) == [1, 3, 4, 5, 6, 7, 8, 9, 11, 12]
        assert "6, 12 or 24 V" in told[1]
        assert "'voltage', the nearest" in told[3]
        assert "with an unknown unit" in told[6]
        assert "line 10" in told[11]
        assert "'van_upgraded', the nearest" in told[12]
        assert not (tmp_path / "my.toml").exists()

    def test_missing_file_is_one_line(self, run, tmp_path):
        done = run("describe", "--answers", "nowhere.txt", "-o", "my.toml", cwd=tmp_path)
        assert done.returncode == 2
        assert "nowhere.txt" in done.stderr
        assert "Traceback" not in done.stderr


class TestTarget:
    def test_a_file_that_is_there_is_not_lost(self, run, tmp_path):
        (tmp_path / "my.toml").write_text("mine")
        name = answer_file(tmp_path, VAN)
        done = run("describe", "--answers", name, "-o", "my.toml", cwd=tmp_path)
        assert done.returncode == 2
        assert "--replace" in done.stderr
        assert (tmp_path / "my.toml").read_text() == "mine"
        done = run("describe", "--answers", name, "-o", "my.toml", "--replace", cwd=tmp_path)
        assert done.returncode == 0, done.stderr
        load_configuration(str(tmp_path / "my.toml"))

    @every_case("target", ["my.txt", "missing/my.toml", "."])
    def test_a_bad_target_is_told_before_the_first_question(self, run, tmp_path, target):
        done = run("describe", "-o", target, cwd=tmp_path, text=typed(VAN))
        assert done.returncode == 2
        assert "1 of " not in done.stdout
        assert not list(tmp_path.iterdir())


class TestWrittenFile:
    def described(self, run, folder, answers):
        done = run(
            "describe", "--answers", answer_file(folder, answers), "-o", "my.toml", cwd=folder
        )
        assert done.returncode == 0, done.stderr
        return folder / "my.toml"

    def test_every_commented_wire_and_rating_loads_once_the_mark_is_taken_off(self, run, tmp_path):
        path = self.described(run, tmp_path, VAN)
        lines = path.read_text(encoding="utf-8").splitlines()
        freed = [free(line) for line in lines]
        assert freed != lines
        path.write_text("\n".join(freed), encoding="utf-8")
        before = load_configuration("van_original_ballast")
        after = load_configuration(str(path))
        assert {wire.id for wire in after.wires} == {wire.id for wire in before.wires}
        assert [part.ratings for part in after.components] == [
            part.ratings for part in before.components
        ]

    def test_the_sheet_is_told_what_differs(self, run, tmp_path):
        path = self.described(run, tmp_path, {**VAN, "indicator": "voltmeter", "ignition": ""})
        loaded = load_configuration(str(path))
        told = " ".join(loaded.as_found_remarks)
        assert "voltmeter" in told
        assert "Not known: ignition" in told
        assert (
            loaded.as_found_note == "Described, and not yet compared with the vehicle wire by wire."
        )

    def test_papers_bear_the_name_that_was_given(self, run, tmp_path):
        path = self.described(run, tmp_path, VAN)
        assert load_configuration(str(path)).vehicle.title == "The baker's van"

    def test_a_part_elsewhere_is_a_todo_with_a_change_to_free(self, run, tmp_path):
        path = self.described(run, tmp_path, {**VAN, "coil_place": "inner wing left"})
        text = path.read_text(encoding="utf-8")
        assert "TODO coil place: 'inner wing left'" in text
        assert '# place = "inner_wing_left"' in text

    def test_a_length_without_a_single_wire_is_a_todo(self, run, tmp_path):
        answers = {
            **VAN,
            "based_on": "tractor_original",
            "battery_to_junction": "0.7 m",
            "battery_to_starter": "0.8 m",
        }
        path = self.described(run, tmp_path, answers)
        loaded = load_configuration(str(path))
        assert loaded.runs["starter-cable"].length_m == pytest.approx(0.8)
        told = "TODO battery to junction" in path.read_text(encoding="utf-8")
        assert told != loaded.runs["ammeter-feed"].measured

    def test_another_ground_turns_the_battery_round(self, run, tmp_path):
        answers = {**VAN, "ground": "positive", "based_on": "van_original_ballast"}
        loaded = load_configuration(str(self.described(run, tmp_path, answers)))
        assert loaded.vehicle.ground == "positive"

    def test_another_voltage_and_ground_convert_what_minds_them(self, run, tmp_path):
        answers = {**VAN, "voltage": "24 V", "based_on": "van_original_ballast"}
        path = self.described(run, tmp_path, answers)
        loaded, text = load_configuration(str(path)), path.read_text(encoding="utf-8")
        assert loaded.vehicle.voltage_v == 24
        part = loaded.component
        assert part("battery").ratings["emf"] == pytest.approx(25.2)
        converted = {"headlamp_left_low", "charge_lamp", "horn", "wiper_motor", "coil", "starter"}
        assert {part(role).ratings["rated_voltage"] for role in converted} == {24.0}
        assert part("ballast").ratings["resistance"] == pytest.approx(2.8)
        assert part("regulator").ratings["set_point"] == pytest.approx(28.4)
        assert not {f.code for f in check(loaded)} & {"RATED-HIGH", "RATED-LOW", "CHG-SET-POINT"}
        assert "WRITTEN FOR 24 V, NOT SEEN" in text.partition("[configuration]")[0]
        assert part("horn").name in text.partition("[configuration]")[0].replace("\n#    ", "")
        assert "# [overrides.battery]" not in text  # what stands there would be overruled below

    @every_case("name", ['a "quoted" \\ name', "ein # Zeichen", "[x]\u00e9"])
    def test_a_name_is_written_as_it_was_said(self, run, tmp_path, name):
        path = self.described(run, tmp_path, {"name": f"'{name}'"})
        assert load_configuration(str(path)).title == name


class TestFallback:
    def test_a_combination_that_does_not_load_gives_way_to_the_nearest(self, tmp_path):
        from attrs import evolve

        answers = {"name": read_answer(question("name"), "Van")}
        shipped = proposals({}, few(), lambda _: None)
        bad = evolve(
            shipped[0],
            name="carrier_van",
            is_combination=True,
            systems={"ignition": "no_such_system"},
        )
        done = describe(tmp_path / "my.toml", bad, shipped, answers)
        assert done.proposal is shipped[0]
        (remark,) = done.remarks
        assert "carrier_van does not load" in remark
        assert "it was not used" in remark
        loaded = load_configuration(str(tmp_path / "my.toml"))
        assert loaded.digest == shipped[0].configuration.digest

    def test_nothing_is_written_if_nothing_loads(self, tmp_path):
        from attrs import evolve

        shipped = proposals({}, few(), lambda _: None)
        bad = evolve(shipped[0], name="no_such_configuration", base="no_such_configuration")
        with pytest.raises(PlannerError):
            describe(tmp_path / "my.toml", bad, (bad,), {})
        assert not list(tmp_path.iterdir())


def free(line):
    """A commented wire or rating without its mark."""
    if line.startswith('  # { id = "'):
        return "  " + line[4:]
    if line.startswith("# [overrides.") or (line.startswith("# ") and " = " in line[:40]):
        is_rating = line[2:].split(" = ")[0].isidentifier()
        keys = ("add_wires", "remove_wires", "role", "place")
        if line.startswith("# [") or (is_rating and not line[2:].startswith(keys)):
            return line[2:]
    return line


class TestAnswers:
    @every_case(
        ("key", "text", "among", "never"),
        [
            ("starting", "solenoid on the starter", "solenoid", "relay_apart"),
            (
                "charging",
                "alternator with regulator inside",
                "alternator_lamp",
                "alternator_external",
            ),
            ("starting", "button on the dash", "solenoid", "mechanical"),
            ("charging", "alternator, regulator on the wing", "alternator_external", "alternator"),
            (
                "charging",
                "alternator, built-in regulator",
                "alternator_one_wire",
                "alternator_external",
            ),
        ],
    )
    def test_little_words_and_other_words_lead_to_no_other_part(self, key, text, among, never):
        ids = read_answer(question(key), text).ids
        assert among in ids
        assert never not in ids

    @every_case(
        ("key", "text", "ids"),
        [
            ("voltage", "6V", ("6",)),
            ("ground", "+", ("positive",)),
            ("ground", "neg", ("negative",)),
            ("ground", "positive, strap on the + post", ("positive",)),
            ("ground", "-ve", ("negative",)),
            ("voltage", "six volts", ("6",)),
            ("cylinders", "4 cyl", ("4",)),
            ("charging", "generator, 3 brushes", ("dynamo_third_brush",)),
            ("charging", "dynamo and control box", ("dynamo_control_box",)),
            ("fuses", "fuse box with 4 fuses", ("fuse_box",)),
            ("connector", "rubber grommet", ("none",)),
            ("connector", "no plug", ("none",)),
            ("starting", "pull knob", ("mechanical",)),
            ("cylinders", "six", ("6",)),
            ("ignition", "points full voltage", ("points_full_voltage",)),
            ("starting", "pull", ("mechanical",)),
            ("charging", "0", ("none",)),
            ("indicator", "lamp and ammeter", ("charge_lamp", "ammeter")),
            ("connector", "yes", ("connector",)),
            ("connector", "no", ("none",)),
            ("fuses", "none", ("none",)),
            ("ignition", "points, plain wire", ("points_full_voltage",)),
        ],
    )
    def test_understood(self, key, text, ids):
        assert read_answer(question(key), text).ids == ids

    def test_a_family_is_a_vague_answer(self):
        answer = read_answer(question("ignition"), "points")
        assert answer.is_vague
        assert {"points_ballast", "points_full_voltage"} <= set(answer.ids)

    @every_case(
        ("key", "text"),
        [
            ("voltage", "7"),
            ("voltage", "twelve hundred"),
            ("ground", "left"),
            ("cylinders", "0"),
            ("cylinders", "99"),
            ("ignition", "99"),
            ("ignition", "foo"),
            ("fuses", "none, 1"),
            ("battery_to_starter", "3"),
            ("battery_to_starter", "0 m"),
            ("battery_to_starter", "90 m"),
            ("name", "x" * 81),
            ("battery", "0"),
            ("indicator", ","),
        ],
    )
    def test_refused_with_what_would_be_right(self, key, text):
        with pytest.raises(AnswerError) as caught:
            read_answer(question(key), text)
        assert caught.value.expected

    def test_every_choice_is_understood_by_number_id_and_words(self):
        for asked in questions():
            for number, sort in enumerate(asked.choices, start=1):
                for text in (str(number), sort.id, sort.words, sort.words.upper()):
                    if asked.kind == "varieties" and "," in text:
                        continue
                    assert read_answer(asked, text).ids == (sort.id,), text

    def test_the_engine_names_the_cylinders_unless_they_are_told(self):
        engine = read_answer(question("engine"), "V8")
        assert completed({"engine": engine})["cylinders"].ids == ("8",)
        told = read_answer(question("cylinders"), "6")
        assert completed({"engine": engine, "cylinders": told})["cylinders"] is told


@every_case(
    ("key", "text", "meant"),
    [
        ("starting", "switch on the floor, foot", ("mechanical",)),
        ("indicator", "red lamp", ("charge_lamp",)),
        ("battery_to_starter", "18 inches", "18 in"),
        ("battery_to_starter", "4'7\"", "4 ft 7 in"),
        ("battery_to_starter", "about 1 m", "1 m"),
        ("battery_to_starter", "1,4 m", "1.4 m"),
    ],
)
def test_natural_answers_are_understood(key, text, meant):
    answer = read_answer(question(key), text)
    assert meant in (answer.ids, answer.words)


def test_no_to_how_is_asked_back():
    with pytest.raises(AnswerError, match=r"one of|nearest"):
        read_answer(question("starting"), "no")


def test_dont_know_is_an_empty_answer(tmp_path):
    from upgrade_planner.library.answer_files import load_answers

    name = answer_file(tmp_path, {**VAN, "charging": "don't know", "coil_place": "not sure"})
    answers = load_answers(tmp_path / name).answers
    assert not {"charging", "coil_place"} & set(answers)


class TestWhatWasFoundIsWritten:
    """One proposal each, of the small library: nothing is searched for."""

    def described(self, folder, name, **answers):
        known = {key: read_answer(question(key), text) for key, text in answers.items()}
        found = proposals({}, few())
        chosen = next(one for one in found if one.name == name and not one.is_combination)
        made = describe(folder / "my.toml", chosen, (chosen,), known)
        assert not made.remarks
        return load_configuration(str(folder / "my.toml"))

    def test_no_fuses_are_written_out(self, tmp_path):
        mine = self.described(tmp_path, "van_original_resistance", fuses="nothing")
        assert all(wire.conductor != "fusible link" for wire in mine.wires)
        behind = {f"{p.role}.{way.end}" for p in mine.components for way in ways_of(p)}
        assert behind
        assert not behind & {str(ref) for wire in mine.wires for ref in wire.ends}
        assert "# no fuse on the vehicle" in (tmp_path / "my.toml").read_text()


def ways_of(part):
    return part.ratings.get("fuses", ())


@every_case(("text", "circuit"), [("A", "A"), ("at the armature", "A"), ("case", "B"), ("B", "B")])
def test_a_field_circuit_is_understood(text, circuit):
    assert read_answer(question("field_circuit"), text).ids == (circuit,)
    with pytest.raises(AnswerError, match="armature"):
        read_answer(question("field_circuit"), "both A and B")


def test_the_field_circuit_is_asked_of_a_dynamo_alone():
    asked = question("field_circuit")
    dynamo = read_answer(question("charging"), "third-brush dynamo")
    alternator = read_answer(question("charging"), "one wire")
    assert asked.is_of({"charging": dynamo})
    assert not asked.is_of({"charging": alternator})
    assert not asked.is_of({})


def test_a_field_circuit_that_was_found_is_written_for_dynamo_and_box(load):
    saloon = load("saloon_original")
    start = Proposal(
        name="saloon_original",
        title="",
        is_combination=False,
        base="saloon_original",
        systems={},
        overrides={"regulator": {"current_limit": "20 A"}},
        configuration=saloon,
        match=None,
    )
    answers = {"field_circuit": read_answer(question("field_circuit"), "A")}
    assert overrides_of(start, answers) == {
        "dynamo": {"field_circuit": "A"},
        "regulator": {"current_limit": "20 A", "field_circuit": "A"},
    }
    same = {"field_circuit": read_answer(question("field_circuit"), "B")}
    assert overrides_of(start, same) == start.overrides


def test_a_combination_keeps_what_the_shipped_one_says_of_its_systems(load, tmp_path):
    """Another ignition in a saloon whose dynamo is of circuit B: that stays."""
    saloon = load("saloon_original")
    systems = {**saloon.systems, "ignition": "trigger_module_full_voltage"}
    mixed = Proposal(
        name="dynamo_saloon",
        title="Saloon",
        is_combination=True,
        base="saloon_original",
        systems=systems,
        overrides={},
        configuration=saloon,
        match=match_of({}, traits_of(saloon)),
    )
    describe(tmp_path / "my.toml", mixed, (mixed,), {})
    mine = load_configuration(str(tmp_path / "my.toml"))
    assert mine.systems["ignition"] == systems["ignition"]
    assert mine.component("dynamo").ratings["field_circuit"] == "B"
    assert mine.component("regulator").ratings["field_circuit"] == "B"


def described_from(configuration, folder, **typed_answers):
    """What is written of a shipped configuration and some answers: loaded, and as text."""
    start = Proposal(
        name=configuration.name,
        title="",
        is_combination=False,
        base=configuration.name,
        systems={},
        overrides={},
        configuration=configuration,
        match=match_of({}, traits_of(configuration)),
    )
    answers = {key: read_answer(question(key), text) for key, text in typed_answers.items()}
    describe(folder / "my.toml", start, (start,), answers)
    text = (folder / "my.toml").read_text(encoding="utf-8")
    return load_configuration(str(folder / "my.toml")), " ".join(text.replace("#", " ").split())


def test_a_starter_for_six_volts_stays_on_twelve_and_is_asked_for(load, tmp_path):
    loaded, text = described_from(load("six_volt_tractor_original"), tmp_path, voltage="12 V")
    assert "Volts on the starter: made for this voltage, or kept from another? Starter" in text
    assert loaded.component("starter").ratings["rated_voltage"] == 6.0


def test_another_ground_asks_for_the_versions_of_what_minds_it(load, tmp_path):
    loaded, text = described_from(load("saloon_original"), tmp_path, ground="negative")
    assert loaded.component("radio").ratings["polarity"] == "negative ground only"
    assert "Volts and polarity on the plate? Valve radio" in text


def test_without_fuses_wires_are_joined_where_the_profile_has_a_single_fuse(load, tmp_path):
    """The form then asks for a joint, and not for a fuse that nobody will find."""
    loaded, _ = described_from(load("six_volt_tractor_original"), tmp_path, fuses="none")
    assert {loaded.component(role).kind for role in ("lamp_fuse", "field_fuse")} == {"splice"}
    assert not [part for part in loaded.components if part.family == "protection"]
    ends = {
        str(ref) for name in ("lamp-feed", "lamp-fused") for ref in loaded.wire_by_id[name].ends
    }
    assert "lamp_fuse.joint" in ends
