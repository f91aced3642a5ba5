"""What a person sets once, by environment or settings file, stands in place of the defaults."""

import pytest
from attrs import frozen
from every_case import every_case

from upgrade_planner.cli import app
from upgrade_planner.cli.settings import CHOICES

PAIR = ("van_as_found", "van_upgraded")


@frozen
class Settings:
    run: object
    folder: object

    def __call__(self, text, *arguments, **environment):
        (self.folder / "settings.toml").write_text(text, encoding="utf-8")
        return self.run(
            *arguments,
            cwd=self.folder,
            UPGRADE_PLANNER_SETTINGS=str(self.folder / "settings.toml"),
            **environment,
        )


@pytest.fixture
def settings(run, tmp_path):
    return Settings(run, tmp_path)


def style(path):
    return path.read_text(encoding="utf-8").partition("</style>")[0]


class TestWhatCounts:
    def test_file_then_environment_then_option(self, settings, run, tmp_path):
        words = 'paper = "letter"\nunits = "us"\n'
        for variables, options, size in (
            ({}, (), "Letter"),
            ({"UPGRADE_PLANNER_PAPER": "A4"}, (), "A4"),
            ({"UPGRADE_PLANNER_PAPER": "A4"}, ("--paper", "Letter"), "Letter"),
        ):
            done = settings(words, "survey", PAIR[0], "-o", "f.html", *options, **variables)
            assert done.returncode == 0, done.stderr
            assert f"size: {size}" in style(tmp_path / "f.html")
            said = (tmp_path / "f.html").read_bytes()
            run("survey", PAIR[0], "-o", "g.html", "--paper", size, "--units", "us", cwd=tmp_path)
            assert said == (tmp_path / "g.html").read_bytes()

    def test_help_shows_what_is_set(self, settings):
        done = settings('paper = "Letter"\n', "worksheet", "--help")
        assert "Paper size.  [default: Letter]" in done.stdout

    def test_choices_without_case(self, run, tmp_path):
        done = run("survey", PAIR[0], "-o", "f.html", "--paper", "LETTER", cwd=tmp_path)
        assert done.returncode == 0, done.stderr
        assert "size: Letter" in style(tmp_path / "f.html")

    def test_shop_is_beside_the_settings(self, settings, run, tmp_path):
        assert run("shop", "-o", "mine", cwd=tmp_path).returncode == 0
        rates = tmp_path / "mine" / "rates.toml"
        rates.write_text(rates.read_text("utf-8").replace("Lane End", "Mill Lane"), "utf-8")
        done = settings('shop = "mine"\n', "quote", *PAIR, "-o", "q.html")
        assert done.returncode == 0, done.stderr
        assert "Mill Lane" in (tmp_path / "q.html").read_text(encoding="utf-8")
        assert "invented" not in done.stdout

    @pytest.mark.parametrize("key", ["paper", "units", "english"])
    def test_every_command_with_the_option_takes_it(self, settings, key):
        from typer.main import get_command

        word = {"paper": "Letter", "units": "us", "english": "uk"}[key]
        for name, command in get_command(app).commands.items():
            if any(one.name == key for one in command.params):
                done = settings(f'{key} = "{word}"\n', name, "--help")
                assert f"[default: {word}]" in " ".join(done.stdout.split()), name


class TestRefused:
    @pytest.mark.parametrize(
        ("text", "told"),
        [
            (
                '\npaper = "A5"\n',
                "settings.toml:2:1: paper: found 'A5'; expected one of",
            ),
            ('papers = "A4"\n', "settings.toml:1:1: found the key 'papers'; expected"),
            ("units = 3\n", "units: found 3; expected a text"),
            ('shop = "away"\n', "expected an existing folder"),
            ("paper = A4\n", "settings.toml:1"),
        ],
    )
    def test_file(self, settings, text, told):
        done = settings(text, "check", PAIR[0])
        assert done.returncode == 2
        assert told in done.stderr
        assert "Traceback" not in done.stderr

    @every_case("key", CHOICES)
    def test_variable(self, run, tmp_path, key):
        name = f"UPGRADE_PLANNER_{key.upper()}"
        done = run("check", PAIR[0], cwd=tmp_path, **{name: "none such"})
        assert done.returncode == 2
        assert f"{name}: found 'none such'; expected " in done.stderr

    def test_file_that_is_not_there(self, run, tmp_path):
        done = run("list", cwd=tmp_path, UPGRADE_PLANNER_SETTINGS="nowhere.toml")
        assert done.returncode == 2
        assert "nowhere.toml" in done.stderr
