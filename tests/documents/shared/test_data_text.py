"""JSON as the standard library lays it out, to the byte."""

import json

from hypothesis import given
from hypothesis import strategies as st

from upgrade_planner.documents.shared.data_text import PROGRAM, DataForm, data_text

FORM = DataForm("trial", 3, dict)

VALUES = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(),
    lambda inner: st.lists(inner) | st.lists(inner).map(tuple) | st.dictionaries(st.text(), inner),
    max_leaves=12,
)


@given(st.dictionaries(st.text(), VALUES, max_size=4))
def test_text_is_that_of_the_standard_library(data):
    envelope = {"format": "upgrade-planner trial", "version": 3, "program": PROGRAM}
    expected = json.dumps({**envelope, "data": in_order(data)}, indent=1, ensure_ascii=False)
    assert data_text(FORM, data) == expected + "\n"


def in_order(value):
    """With the keys of all dictionaries in order."""
    if isinstance(value, dict):
        return {key: in_order(value[key]) for key in sorted(value)}
    return [in_order(item) for item in value] if isinstance(value, list | tuple) else value
