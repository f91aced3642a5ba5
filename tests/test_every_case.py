"""Many cases in one test: each is tried, and all that fail are told."""

import pytest
from every_case import every_case


def tried(test, **fixtures):
    """Messages of the cases that fail, with what says which they are."""
    with pytest.raises(BaseExceptionGroup) as caught:
        test(**fixtures)
    return [f"{failure} {failure.__notes__[0]}" for failure in caught.value.exceptions]


def test_all_that_fail_are_told_with_their_case():
    seen = []

    @every_case(("number", "word"), [(1, "a"), (2, "b"), (3, "c")])
    def test(number, word):
        seen.append(number)
        assert word == "b", "no b"

    first, last = tried(test)
    assert seen == [1, 2, 3]
    assert "no b" in first
    assert "number = 1, word = 'a'" in first
    assert "number = 3, word = 'c'" in last


def test_what_does_not_raise_is_told_like_what_is_not_so():
    @every_case("value", [0, 1])
    def test(value):
        with pytest.raises(ZeroDivisionError):
            1 / value

    (only,) = tried(test)
    assert "DID NOT RAISE" in only
    assert "value = 1" in only


def test_two_above_a_test_are_all_combinations():
    seen = []

    @every_case("a", [1, 2])
    @every_case("b", "xy")
    def test(a, b):
        seen.append((a, b))

    test()
    assert seen == [(1, "x"), (1, "y"), (2, "x"), (2, "y")]


def test_case_of_pytest_param_is_its_values():
    seen = []

    @every_case("a", [pytest.param((1, 2), id="pair")])
    def test(a):
        seen.append(a)

    test()
    assert seen == [(1, 2)]


@every_case("name", ["a", "b"])
def test_each_case_has_a_folder_and_a_garage_of_its_own(name, tmp_path, garage):
    assert sorted(tmp_path.iterdir()) == sorted(garage.folder.iterdir())
    assert len(list(tmp_path.iterdir())) == 4
    (tmp_path / "more").write_text(name)


def test_no_cases_are_a_mistake():
    with pytest.raises(AssertionError, match="no case"):
        every_case("a", [])
