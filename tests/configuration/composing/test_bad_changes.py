"""Changes that cannot be made, or leave something undone."""

from every_case import every_case

WIRES = (
    "charge-lamp, charge-output, ground-cable, ignition-feed, key-feed, lamp-feed, points-lead, "
    "tachometer"
)
ROLES = "alternator, battery, charge_lamp, coil, distributor, fuses, ground, key, plug"

CASES = {
    "remove a wire that is not there": (
        'remove_wires = [«"lamp-fed"]',
        "lamp-fed",
        "no wire 'lamp-fed'",
        f"'lamp-feed', the nearest of: {WIRES}",
    ),
    "remove a wire twice": (
        'remove_wires = ["key-feed", «"key-feed"]',
        "key-feed",
        "the wire 'key-feed', which is removed in line 11 of {configuration}",
        "a wire that is left",
    ),
    "remove a part that is not there": (
        'remove_components = [«"charge_lmp"]',
        "charge_lmp",
        "no role 'charge_lmp'",
        f"'charge_lamp', the nearest of: {ROLES}",
    ),
    "change a wire that is not there": (
        'change_wires = [ { «id = "lamp-fed", size = "16 SAE" } ]',
        "lamp-fed",
        "no wire 'lamp-fed'",
        f"'lamp-feed', the nearest of: {WIRES}",
    ),
    "change a wire that was removed": (
        'remove_wires = ["lamp-feed"]\nchange_wires = [ { «id = "lamp-feed", size = "16 SAE" } ]',
        "lamp-feed",
        "the wire 'lamp-feed', which is removed in line 11 of {configuration}",
        "a wire that is left",
    ),
    "change a part that is not there": (
        'change_component = [ { «role = "coyl", name = "Other coil" } ]',
        "coyl",
        "no role 'coyl'",
        f"'coil', the nearest of: {ROLES}",
    ),
    "add a wire that is there": (
        'add_wires = [ { «id = "key-feed", circuit = "lamps", from = "key.ignition", '
        'to = "fuses.supply", size = "14 SAE", colour = "GN", insulation = "GPT" } ]',
        "key-feed",
        "the wire 'key-feed' a second time (the first is in line 133 of {vehicle})",
        "another id",
    ),
    "add a part that is there": (
        'add_component = [ { «role = "coil", kind = "ground_point", name = "g", place = "dash", '
        'terminals = [ { name = "stud", label = "", connection = "stud M6" } ] } ]',
        "coil",
        "the role 'coil' a second time (the first is in line 7 of {ignition})",
        "another role",
    ),
    "end at no terminal": (
        'change_wires = [ { id = "lamp-feed", «to = "charge_lamp.suply" } ]',
        "lamp-feed",
        "no terminal 'suply' on charge_lamp ({vehicle})",
        "'supply', the nearest of: return, supply",
    ),
    "end at no part": (
        'change_wires = [ { id = "lamp-feed", «to = "charge_lmp.supply" } ]',
        "lamp-feed",
        "no role 'charge_lmp' in {vehicle} and its systems",
        f"'charge_lamp', the nearest of: {ROLES}",
    ),
    "both ends on one terminal": (
        'change_wires = [ { id = "lamp-feed", «to = "key.ignition" } ]',
        "lamp-feed",
        "both ends on one terminal",
        "two different terminals",
    ),
    "resistance wire without ohms": (
        'change_wires = [ { id = "ignition-feed", «conductor = "resistance wire" } ]',
        "ignition-feed",
        "a resistance wire without its ohms",
        'resistance = "1.35 ohm"',
    ),
    "ohms for a plain wire": (
        'change_wires = [ { id = "ignition-feed", «resistance = "1 ohm" } ]',
        "ignition-feed",
        "a resistance on plain wire",
        'conductor = "resistance wire" beside it',
    ),
    "ohms for a wire that is made plain": (
        'change_wires = [ { id = "ignition-feed", conductor = "copper", «resistance = "1 ohm" } ]',
        "ignition-feed",
        "a resistance on plain wire",
        'conductor = "resistance wire" beside it',
    ),
    "loom that no route has": (
        'change_wires = [ { id = "lamp-feed", «route = "dsh loom" } ]',
        "lamp-feed",
        "no loom 'dsh loom'",
        "'dash loom', the nearest of: dash loom, engine loom",
    ),
    "part moved to no place": (
        'change_component = [ { role = "key", «place = "dahs" } ]',
        "key",
        "no place 'dahs'",
        "'dash', the nearest of: block, bulkhead, dash, tray",
    ),
    "terminals without a required one": (
        'change_component = [ { role = "charge_lamp", «terminals = [ '
        '{ name = "return", label = "", connection = "stud M4" } ] } ]',
        "charge_lamp",
        "a lamp without the terminal 'supply'",
        "terminals with 'supply'",
    ),
    "terminal twice": (
        'change_component = [ { role = "ground", terminals = [ '
        '{ name = "stud", label = "", connection = "stud M4" }, '
        '«{ name = "stud", label = "", connection = "stud M4" } ] } ]',
        "ground",
        "the terminal 'stud' a second time",
        "each terminal once",
    ),
    "rating that the kind does not have": (
        'change_component = [ { role = "coil", ratings = { «primary_resistence = "1 ohm" } } ]',
        "coil",
        "the rating 'primary_resistence' on an ignition coil",
        "'primary_resistance', the nearest of: primary_inductance, primary_resistance",
    ),
    "rating without unit": (
        'change_component = [ { role = "coil", ratings = { «primary_resistance = "1" } } ]',
        "coil",
        '"1" without a unit',
        "a resistance with its unit",
    ),
    "unknown key of a change": (
        'change_wires = [ { id = "lamp-feed", «sise = "16 SAE" } ]',
        "lamp-feed sise",
        "unknown key 'sise'",
        "'size', the nearest of: circuit, colour,",
    ),
    "change without a name": (
        'change_wires = [ «{ size = "16 SAE" } ]',
        "changes change_wires 1",
        "no 'id'",
        'id = "…"',
    ),
    "unknown kind of change": (
        '«delete_wires = ["lamp-feed"]',
        "changes delete_wires",
        "unknown key 'delete_wires'",
        "'remove_wires', the nearest of: add",
    ),
    "part added without a place": (
        'add_component = [ «{ role = "joint", kind = "splice", name = "Splice", '
        'terminals = [ { name = "joint", label = "", connection = "splice" } ] } ]',
        "joint",
        "no place for the role 'joint' in {vehicle}",
        'joint = "…" under [mounting] there, or another system',
    ),
}


@every_case("table", ["changes", "as_found"])
@every_case("case", CASES.values())
def test_change_that_cannot_be_made_is_told_at_its_place(garage, case, table):
    text, subject, found, expected = case
    problem = garage.add("configuration", f"[{table}]\n{text}").only_problem()
    files = {name: garage.path(name) for name in ("vehicle", "ignition", "configuration")}
    assert problem.subject == subject.replace("changes", table, 1)
    assert problem.found == found.format(**files)
    assert expected in problem.expected


class TestOverrides:
    def test_unknown_role(self, garage):
        garage.add("configuration", '[overrides.«coyl]\nprimary_resistance = "1 ohm"')
        problem = garage.only_problem()
        assert (problem.subject, problem.found) == ("coyl", "no role 'coyl'")
        assert problem.expected == f"'coil', the nearest of: {ROLES}"

    @every_case(
        ("rating", "found"),
        [
            ('primary_resistence = "1 ohm"', "the rating 'primary_resistence' on an ignition coil"),
            ('primary_resistance = "1 A"', '"1 A", which is a current'),
            ("primary_resistance = 1", "the bare number 1"),
        ],
    )
    def test_bad_rating_is_told_where_it_is_written(self, garage, rating, found):
        garage.add("configuration", f"[overrides.coil]\n«{rating}")
        problem = garage.only_problem()
        assert (problem.subject, problem.found) == ("coil", found)

    def test_bad_rating_is_told_there_even_if_the_part_is_changed_later(self, garage):
        garage.add("configuration", '[overrides.coil]\n«primary_resistance = "1 A"')
        garage.write(
            "mine",
            '[configuration]\ntitle = "m"\nsummary = "s"\nbased_on = "configuration.toml"\n'
            '[as_found]\nchange_component = [ { role = "coil", name = "Strange coil" } ]\n',
        )
        assert garage.only_problem("mine").file == str(garage.path("configuration"))

    def test_bad_rating_that_is_mended_later_is_no_problem(self, garage):
        garage.add("configuration", '[overrides.coil]\nprimary_resistance = "1 A"')
        garage.add(
            "configuration",
            "[changes]\nchange_component = "
            '[ { role = "coil", ratings = { primary_resistance = "2 ohm" } } ]',
        )
        assert garage.load().component("coil").ratings["primary_resistance"] == 2


class TestRemovedParts:
    def test_wires_left_hanging_are_told_where_the_part_is_removed(self, garage):
        garage.add("configuration", '[changes]\nremove_components = ["charge_lamp"]')
        problems = garage.problems()
        assert [(problem.line, problem.column) for problem in problems] == [(11, 22)] * 2
        assert problems[1].subject == "lamp-feed"
        assert problems[1].found == (
            "'charge_lamp' removed, but wire 'lamp-feed' "
            f"(in line 134 of {garage.path('vehicle')}) joined to it"
        )
        assert problems[1].expected == (
            "'lamp-feed' in remove_wires too, or a new end in change_wires"
        )

    def test_wires_removed_or_moved_with_the_part_are_no_problem(self, garage):
        garage.add(
            "configuration",
            '[changes]\nremove_components = ["charge_lamp"]\nremove_wires = ["charge-lamp"]\n'
            'change_wires = [ { id = "lamp-feed", to = "fuses.supply" } ]',
        )
        assert "charge_lamp" not in garage.load().component_by_role

    def test_part_removed_and_another_added_in_its_role(self, garage):
        garage.add(
            "configuration",
            '[changes]\nremove_components = ["ground"]\n[[changes.add_component]]\n'
            'role = "ground"\nkind = "ground_point"\nname = "New ground"\nplace = "tray"\n'
            'terminals = [ { name = "stud", label = "31", connection = "stud M6" } ]',
        )
        assert garage.load().component("ground").place == "tray"

    def test_connector_that_routes_pass_cannot_be_removed(self, garage):
        garage.add("configuration", '[changes]\nremove_components = [«"plug"]')
        problem = garage.only_problem()
        assert problem.subject == "plug"
        assert problem.found == (
            "a connector removed, 'plug', that routes pass through "
            f"(in line 51 of {garage.path('vehicle')})"
        )
        assert problem.expected == "a connector that no route names"

    def test_wire_for_an_optional_part_goes_with_it(self, garage):
        garage.add(
            "vehicle",
            '[[component]]\nrole = "tachometer"\nkind = "tachometer"\nname = "T"\nplace = "dash"\n'
            'terminals = [ { name = "signal", label = "1", connection = "stud M4" } ]',
        )
        assert "tachometer" in garage.load().wire_by_id
        garage.add("configuration", '[changes]\nremove_components = ["tachometer"]')
        assert "tachometer" not in garage.load().wire_by_id


class TestKindChanged:
    def test_terminals_and_ratings_of_the_new_kind_are_asked_for_at_the_change(self, garage):
        garage.add(
            "configuration",
            '[[changes.change_component]]\nrole = "coil"\nkind = "resistor"\nname = "Ballast"',
        )
        problems = [p for p in garage.problems() if p.subject == "coil"]
        assert {(p.file, p.line) for p in problems} == {(str(garage.path("configuration")), 10)}
        assert {problem.found for problem in problems} == {
            "a resistor without the rating 'resistance'",
            "a resistor without the terminal 'in'",
            "a resistor without the terminal 'out'",
            "the terminal 'positive' on a resistor",
            "the terminal 'negative' on a resistor",
        }

    def test_ratings_of_the_old_kind_do_not_stay(self, garage):
        garage.add(
            "configuration",
            '[[changes.change_component]]\nrole = "charge_lamp"\nkind = "load"\n'
            'ratings = { power = "3 W", rated_voltage = "6 V" }',
        )
        assert garage.load().component("charge_lamp").ratings == {"power": 3, "rated_voltage": 6}
