"""`target`: options, a dialogue, refusals; what it writes loads and says why for every line."""

import pytest
from readme_profiles import write_profiles

from upgrade_planner.electrical.sizing import load_sized


@pytest.fixture
def wish(run, tmp_path):
    def call(*args, text=""):
        return run("target", *args, cwd=tmp_path, text=text)

    return call


def test_options_write_a_commented_file_that_loads(wish, tmp_path):
    done = wish("tractor_original", "--ignition", "integral", "-o", "my.toml")
    assert done.returncode == 0, done.stderr
    assert "Next: upgrade-planner worksheet tractor_original my.toml" in done.stdout
    assert "no danger found in the target" in done.stdout
    text = (tmp_path / "my.toml").read_text(encoding="utf-8")
    (loaded,) = load_sized(str(tmp_path / "my.toml"))
    assert loaded.systems["ignition"] == "integral_coil_distributor"
    changes = [line for line in text.splitlines() if line.startswith("  {")]
    assert all("},  # " in line for line in changes)


def test_answers_do_the_same_as_options(wish, tmp_path):
    wish("tractor_original", "--ignition", "trigger_module_full_voltage", "-o", "a.toml")
    typed = ["", "", "ignition", "trigger full", ""]
    done = wish("tractor_original", "-o", "b.toml", text="\n".join(typed) + "\n")
    assert done.returncode == 0, done.stderr
    assert "ignition now: " in done.stdout
    one, other = (tmp_path / name for name in ("a.toml", "b.toml"))
    same = one.read_text(encoding="utf-8").replace("a.toml", "b.toml")
    assert other.read_text(encoding="utf-8") == same


def test_the_dialogue_knows_vehicles_and_systems_of_ones_own(wish, tmp_path):
    write_profiles(tmp_path)
    (tmp_path / "mine.toml").write_text(
        '[configuration]\ntitle = "t"\nsummary = ""\nbased_on = "pump_now.toml"\n'
        '[systems]\nignition = "my_trigger.toml"\n'
    )
    done = wish("mine.toml", "-o", "my.toml", text="\n\n\n")
    assert "  ignition: Trigger module from the shelf, new coil" in done.stdout
    assert "nothing that mine has not already" in done.stderr


def test_a_wish_that_would_bring_a_warning_is_refused_with_its_name(wish, tmp_path):
    wished = ("--ignition", "trigger_module_full_voltage")
    done = wish("six_volt_tractor_original", *wished, "-o", "my.toml")
    assert done.returncode == 2
    assert "DECIDE: Weak spark while cranking (distributor supply" in done.stderr
    assert "  2 It stays as it is: without --ignition trigger_module_full_voltage." in done.stderr
    assert not (tmp_path / "my.toml").exists()


def test_what_comes_from_a_fault_of_the_car_says_so(wish, tmp_path):
    (tmp_path / "car.toml").write_text(
        '[configuration]\ntitle = "t"\nsummary = ""\nbased_on = "pickup_upgraded"\n'
        '[as_found]\nremove_wires = ["key-feed"]\n'
    )
    done = wish("car.toml", "--ignition", "discharge_unit_pick_up", "-o", "my.toml")
    assert done.returncode == 2
    assert "Your car has dangers now" in done.stderr or "It comes from what" in done.stderr


@pytest.mark.parametrize(
    ("option", "text", "told"),
    [
        ("--ignition", "points", "which may be several"),
        ("--ignition", "steam", "found 'steam'; expected"),
        ("--ground", "left", "--ground: found 'left'"),
        ("--output-current", "much", "expected 42 A"),
        ("--ignition", "points_ballast", "nothing that tractor_original has not already"),
    ],
)
def test_what_cannot_be_read_is_told(wish, option, text, told):
    done = wish("tractor_original", option, text, "-o", "my.toml")
    assert done.returncode == 2
    assert told in done.stderr


@pytest.mark.parametrize(
    ("car", "path", "told"),
    [
        ("tractor_original", "my.toml", "--replace"),
        ("tractor_original", "my.txt", ".toml"),
        ("row_tractor", "new.toml", "which is a vehicle"),
    ],
)
def test_what_cannot_be_is_refused_before_the_first_question(wish, tmp_path, car, path, told):
    (tmp_path / "my.toml").write_text("mine", encoding="utf-8")
    done = wish(car, "-o", path, text="\n\n\n\n")
    assert done.returncode == 2
    assert told in done.stderr
    assert "What shall change" not in done.stdout


def test_wrong_answers_are_asked_again_in_the_words_of_the_dialogue(wish):
    typed = ["8", "12", "left", "", "ignition", "?", "module", "integral", ""]
    done = wish("tractor_original", "-o", "b.toml", text="\n".join(typed) + "\n")
    assert done.returncode == 0, done.stderr
    assert "--ground: found 'left'" in done.stdout
    assert "--ignition: found" not in done.stdout
    assert done.stdout.count("Integral-coil electronic distributor") >= 2


def test_an_edited_target_is_not_written_over(wish, tmp_path):
    (tmp_path / "my.toml").write_text("mine", encoding="utf-8")
    done = wish("tractor_original", "--ignition", "integral", "-o", "my.toml")
    assert done.returncode == 2
    assert "--replace" in done.stderr


def test_a_system_that_does_not_fit_says_so_without_files_of_the_program():
    from upgrade_planner.jobs.target import _misfit_words

    message = (
        "start-bypass: found no terminal named 'start_bypass' in /x/y.toml; expected one of: a"
    )
    assert _misfit_words(message) == "nothing on it is a start bypass"
