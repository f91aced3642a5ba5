"""
Kit list and quotation of two jobs, as they were read through by hand.

A change on purpose: write them anew with the commands below and read the differences.
"""

import pytest
from places import GOLDEN

PAIRS = [
    ("van_original_resistance", "van_upgraded"),
    ("saloon_original", "saloon_negative_dynamo"),
]


@pytest.mark.parametrize(("before", "after"), PAIRS)
@pytest.mark.parametrize(("command", "suffix"), [("kit", "csv"), ("quote", "json")])
def test_text_is_that_which_was_read(run, tmp_path, command, suffix, before, after):
    name = f"{command}_{after}.{suffix}"
    done = run(command, before, after, "--date", "2026-03-01", "-o", name, cwd=tmp_path)
    assert done.returncode == 0, done.stderr
    assert (tmp_path / name).read_bytes() == (GOLDEN / name).read_bytes()
