"""Spoilt files end in a refusal that names them, or in a result; never in anything else."""

import pytest
from cases import case
from inputs import inputs

CASES, FIRST, AT_ONCE = 300, 1, 30


@pytest.fixture(scope="module")
def sorts(tmp_path_factory):
    return inputs(tmp_path_factory.mktemp("made"))


@pytest.mark.parametrize("start", range(0, CASES, AT_ONCE))
def test_spoilt_file_is_refused_by_name_or_used(sorts, tmp_path, start):
    ended = [
        case(number, FIRST, sorts, tmp_path / "case", quick=True)
        for number in range(start, start + AT_ONCE)
    ]
    assert [(one.number, one.file, one.wrong, one.told) for one in ended if one.wrong] == []
