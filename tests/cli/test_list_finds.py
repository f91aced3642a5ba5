"""The finding forms of `list`: by what one sees, from and to a configuration, what fits."""

from as_data import data_of
from every_case import every_case


def names(done):
    return {item["name"] for item in data_of(done.stdout)["configurations"]}


class TestFilters:
    def test_traits_narrow_the_choice(self, run, tmp_path):
        every = names(run("list", "--vehicle", "carrier_van", "--json", cwd=tmp_path))
        assert {"van_original_ballast", "van_original_resistance", "van_upgraded"} <= every
        points = names(
            run("list", "--vehicle", "carrier_van", "--ignition", "points", "--json", cwd=tmp_path)
        )
        assert "van_original_ballast" in points
        assert "van_upgraded" not in points
        ballast = names(
            run("list", "--vehicle", "van", "--ignition", "BALLAST points", "--json", cwd=tmp_path)
        )
        assert "van_original_ballast" in ballast
        assert "van_original_resistance" not in ballast

    @every_case("voltage", ["12", "12 V", "12V", "12 volts"])
    def test_a_voltage_may_be_written_in_many_ways(self, run, tmp_path, voltage):
        found = names(
            run("list", "--voltage", voltage, "--vehicle", "row_tractor", "--json", cwd=tmp_path)
        )
        assert {"tractor_original", "tractor_upgraded"} <= found

    def test_cylinders_and_engine_in_figures_or_words(self, run, tmp_path):
        for options in (("--cylinders", "six"), ("--cylinders", "6"), ("--engine", "six")):
            found = names(run("list", *options, "--json", cwd=tmp_path))
            assert "van_upgraded" in found, options
            assert "tractor_original" not in found, options

    def test_the_table_names_traits(self, run, tmp_path):
        done = run("list", "--ignition", "ballast", "--vehicle", "carrier_van", cwd=tmp_path)
        assert done.returncode == 0
        assert "van_original_ballast" in done.stdout
        assert "points, ballast" in done.stdout
        assert "12 V neg." in done.stdout

    def test_nothing_found_says_what_there_is(self, run, tmp_path):
        done = run("list", "--charging", "steam", "--ignition", "points", cwd=tmp_path)
        assert done.returncode == 0
        assert "none with 'steam'" in done.stdout
        assert "field relay" in done.stdout
        assert "points with ballast resistor" in done.stdout

    @every_case(
        ("options", "words"),
        [
            (("--voltage", "high"), ("--voltage", "'high'", "12")),
            (("--voltage", "13"), ("--voltage", "'13'", "12")),
            (("--ground", "left"), ("--ground", "'left'", "negative, positive")),
            (("--cylinders", "lots"), ("--cylinders", "'lots'", "6 cylinders")),
        ],
    )
    def test_a_wrong_value_is_exit_code_2_with_those_allowed(self, run, tmp_path, options, words):
        done = run("list", *options, cwd=tmp_path)
        assert done.returncode == 2
        assert all(word in done.stderr for word in words)
        assert "Traceback" not in done.stderr

    def test_json_has_the_traits_in_ids_and_words(self, run, tmp_path):
        done = run("list", "--vehicle", "carrier_van", "--json", cwd=tmp_path)
        data = data_of(done.stdout)
        van = next(c for c in data["configurations"] if c["name"] == "van_original_ballast")
        assert van["traits"]["ignition"] == {
            "ids": ["points_ballast"],
            "words": "points with ballast resistor",
        }
        assert van["vehicle"] == "carrier_van"

    def test_plain_json_carries_traits_of_configurations(self, run, tmp_path):
        listed = data_of(run("list", "--json", cwd=tmp_path).stdout)
        van = next(item for item in listed["profiles"] if item["name"] == "van_original_ballast")
        assert van["traits"]["voltage"]["words"] == "12 V"
        assert van["belongs_to"] == "carrier_van"

    def test_configurations_of_a_vehicle_stand_together(self, run, tmp_path):
        listed = data_of(run("list", "--json", cwd=tmp_path).stdout)
        vehicles = [i["belongs_to"] for i in listed["profiles"] if i["kind"] == "configuration"]
        slots = [i["belongs_to"] for i in listed["profiles"] if i["kind"] == "system"]
        assert vehicles == sorted(vehicles)
        assert slots == sorted(slots)


class TestUpgrades:
    def test_from_shows_what_each_would_change(self, run, tmp_path):
        done = run(
            "list", "--from", "van_original_resistance", "--ignition", "integral", cwd=tmp_path
        )
        assert done.returncode == 0, done.stderr
        assert "van_upgraded" in done.stdout
        assert "removed" in done.stdout
        assert "steps" in done.stdout
        assert "other vehicles cannot be compared" in done.stdout
        assert "worksheet van_original_resistance AFTER" in done.stdout

    def test_counts_are_those_of_the_comparison(self, run, tmp_path, load):
        from upgrade_planner.comparison.comparing import compare
        from upgrade_planner.planning.plan import plan_for

        done = run(
            "list",
            "--from",
            "van_original_ballast",
            "--ignition",
            "integral",
            "--json",
            cwd=tmp_path,
        )
        found = {item["name"]: item for item in data_of(done.stdout)["upgrades"]}
        comparison = compare(load("van_original_ballast"), load("van_upgraded"))
        wires = found["van_upgraded"]["wires"]
        for sort, count in wires.items():
            assert count == sum(change.disposition == sort for change in comparison.wires)
        assert found["van_upgraded"]["steps"] == len(plan_for(comparison).steps)

    def test_to_is_the_other_way_round(self, run, tmp_path):
        done = run(
            "list", "--to", "tractor_upgraded", "--ignition", "ballast", "--json", cwd=tmp_path
        )
        data = data_of(done.stdout)
        assert data["to"] == "tractor_upgraded"
        assert "tractor_original" in {item["name"] for item in data["upgrades"]}

    def test_a_danger_in_the_target_is_told(self, run, tmp_path):
        text = (
            '[configuration]\ntitle = "x"\nsummary = "x"\nbased_on = "van_upgraded"\n'
            '[changes]\nremove_wires = ["sensing"]\n'
        )
        (tmp_path / "bad.toml").write_text(text)
        done = run("list", "--to", "bad.toml", "--ignition", "ballast", cwd=tmp_path)
        assert done.returncode == 0, done.stderr
        assert "DANGER in the target" in done.stdout

    def test_a_file_of_ones_own_is_named_as_it_was_given(self, run, tmp_path):
        text = '[configuration]\ntitle = "x"\nsummary = "x"\nbased_on = "van_original_ballast"\n'
        (tmp_path / "mine.toml").write_text(text)
        done = run("list", "--from", "mine.toml", "--ignition", "ballast", cwd=tmp_path)
        assert "nothing to do" in done.stdout
        assert "worksheet mine.toml AFTER" in done.stdout

    def test_progress_is_not_written_into_a_pipe(self, run, tmp_path):
        done = run("list", "--from", "tractor_original", "--ignition", "integral", cwd=tmp_path)
        assert done.stderr == ""


class TestFits:
    def test_systems_by_slot(self, run, tmp_path):
        done = run("list", "--fits", "row_tractor", cwd=tmp_path)
        assert done.returncode == 0, done.stderr
        lines = {row.split()[0]: row for row in done.stdout.splitlines() if row.split()}
        assert lines["points_ballast"].split() == ["points_ballast", "fits"]
        assert "ignition, in row_tractor" in done.stdout

    def test_a_vehicle_of_ones_own_is_told_what_it_lacks(self, run, tmp_path):
        from upgrade_planner.configuration.files.shipped import shipped_profiles

        text = shipped_profiles("vehicle")["row_tractor"].read_text(encoding="utf-8")
        assert 'coil = "coil_bracket"' in text
        (tmp_path / "own.toml").write_text(text.replace('coil = "coil_bracket"\n', ""))
        done = run("list", "--fits", "own.toml", "--json", cwd=tmp_path)
        found = {item["system"]: item for item in data_of(done.stdout)["systems"]}
        assert not found["points_ballast"]["fits"]
        assert any("'coil'" in words for words in found["points_ballast"]["missing"])
        assert found["integral_coil_distributor"]["fits"]


class TestBadQuestions:
    @every_case(
        ("options", "words"),
        [
            (("--from", "van_upgradet"), "did you mean 'van_upgraded'"),
            (("--fits", "carrier_vann"), "did you mean 'carrier_van'"),
            (("--from", "van_upgraded", "--to", "van_upgraded"), "one of them at a time"),
            (("--fits", "carrier_van", "--ignition", "points"), "one of them at a time"),
        ],
    )
    def test_exit_code_2_and_one_line(self, run, tmp_path, options, words):
        done = run("list", *options, cwd=tmp_path)
        assert done.returncode == 2
        assert words in done.stderr
        assert "Traceback" not in done.stderr


def test_ready_pairs_are_listed_in_plain_words_with_their_command(run, tmp_path):
    done = run("list", "--pairs", cwd=tmp_path)
    assert done.returncode == 0
    assert "worksheet van_original_resistance van_upgraded" in done.stdout
    listed = data_of(run("list", "--pairs", "--json", cwd=tmp_path).stdout)
    assert {"family", "title", "before", "after"} == set(listed["pairs"][0])
    assert run("list", "--pairs", "--fits", "carrier_van", cwd=tmp_path).returncode == 2
