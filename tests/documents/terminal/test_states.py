"""The tables of `readings`."""

from types import SimpleNamespace

from upgrade_planner.documents.terminal.states import wire_rows


def test_currents_that_differ_by_rounding_alone_stand_in_order_of_their_ids():
    amperes = {"bilge-return": 4.0, "bilge-feed": 4.0 - 3e-12, "horn": 5.0}
    point = SimpleNamespace(
        configuration=SimpleNamespace(wires=[SimpleNamespace(id=name) for name in amperes]),
        wire_current_a=amperes.get,
        wire_drop_v=lambda wire: 0.0,
        temperature_c=dict.fromkeys(amperes, 20.0),
    )
    assert [row.wire for row in wire_rows(point)] == ["horn", "bilge-feed", "bilge-return"]
