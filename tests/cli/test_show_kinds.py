"""`show --kinds` and `--kind`: what a profile can name, from the data."""

from upgrade_planner.configuration.registry import kinds


def test_every_kind_is_listed_with_what_it_must_have(run, tmp_path):
    done = run("show", "--kinds", cwd=tmp_path)
    listed = {line.partition(":")[0]: line for line in done.stdout.splitlines()[:-1]}
    assert set(listed) == set(kinds())
    assert "emf" in listed["battery"]


def test_one_kind_has_ratings_with_unit_and_a_shipped_example(run, tmp_path):
    done = run("show", "--kind", "lamp", cwd=tmp_path)
    assert 'rating power: power, must be given, such as "' in done.stdout
    assert "terminals it must have: supply" in done.stdout


def test_an_unknown_kind_is_told_the_nearest(run, tmp_path):
    done = run("show", "--kind", "lmap", cwd=tmp_path)
    assert done.returncode == 2
    assert "'lamp', the nearest" in done.stderr
    assert "expected a profile, --kinds" in run("show", cwd=tmp_path).stderr
