"""The command `readings` end to end."""

import in_process
from as_data import data_of


def run(*arguments, cwd):
    return in_process.run("readings", *arguments, cwd=cwd)


def test_every_state_has_its_table(tmp_path):
    done = run("van_as_found", cwd=tmp_path)
    assert done.returncode == 0, done.stderr
    for state in ("off", "key_on", "cranking", "idling", "loaded", "coasting"):
        assert f" ({state})\n" in done.stdout
    assert "\nmain junction  " in done.stdout


def test_json_carries_ranges_states_and_probes(tmp_path):
    done = run("van_upgraded", "--json", "--state", "loaded", cwd=tmp_path)
    data = data_of(done.stdout, ("readings", 2))
    assert [state["state"] for state in data["states"]] == ["loaded"]
    for reading in data["readings"]:
        assert reading["operating_state"] == "loaded"
        assert set(reading["expected"]) == {"low_v", "nominal_v", "high_v"}
        assert reading["unit"] in ("V", "A", "Ω")
        assert set(reading["probes"]) == {"red", "black"}


def test_unknown_state_is_bad_input(tmp_path):
    done = run("van_upgraded", "--state", "sleeping", cwd=tmp_path)
    assert done.returncode == 2
    assert "found 'sleeping'; expected one of off, key_on" in done.stderr
    assert "Traceback" not in done.stderr


def test_help_has_an_example(tmp_path):
    assert "Example: upgrade-planner readings" in run("--help", cwd=tmp_path).stdout
