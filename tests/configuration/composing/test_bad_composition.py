"""Files that are right each for itself, but do not fit together."""

import pytest
from every_case import every_case

ALL_ROLES = "alternator, battery, charge_lamp, coil, distributor, fuses, ground, key, plug"

CASES = {
    "wire to a missing terminal": (
        "ignition",
        'to = "distributor.points"',
        '«to = "distributor.point"',
        "points-lead",
        "no terminal 'point' on distributor ({ignition})",
        "'points', the nearest of: case, points",
    ),
    "wire from a missing terminal": (
        "ignition",
        'from = "coil.negative", to = "distributor',
        '«from = "coil.minus", to = "distributor',
        "points-lead",
        "no terminal 'minus' on coil ({ignition})",
        "of: grounded, live, negative, positive",
    ),
    "wire to a missing role": (
        "ignition",
        'to = "distributor.points"',
        '«to = "distributer.points"',
        "points-lead",
        "no role 'distributer' in {vehicle} and its systems",
        f"'distributor', the nearest of: {ALL_ROLES}",
    ),
    "wire on a part grounded by its mounting": (
        "ignition",
        'to = "distributor.points"',
        '«to = "distributor.case"',
        "points-lead",
        "a wire on distributor.case, which is grounded by its mounting",
        "a terminal that takes a wire",
    ),
    "wire on a part without terminals": (
        "ignition",
        'to = "distributor.points"',
        '«to = "plug.one"',
        "points-lead",
        "no terminal 'one' on plug ({vehicle})",
        "another part: plug has no terminals",
    ),
    "battery post that no battery has": (
        "vehicle",
        'from = "battery.grounded"',
        '«from = "battery.groundet"',
        "ground-cable",
        "no terminal 'groundet' on battery ({vehicle})",
        "'grounded', the nearest of: grounded, live, negative, positive",
    ),
    "post of the battery on another part": (
        "ignition",
        'to = "distributor.points"',
        '«to = "distributor.live"',
        "points-lead",
        "no terminal 'live' on distributor ({ignition})",
        "one of: case, points",
    ),
    "name of a terminal that the vehicle does not give": (
        "ignition",
        'to = "distributor.points"',
        '«to = "vehicle.breaker"',
        "points-lead",
        "no terminal named 'breaker' in {vehicle} or its systems",
        'breaker = "role.terminal" under [named_terminals] there',
    ),
    "optional part that nobody knows": (
        "ignition",
        'if_present = "tachometer"',
        '«if_present = "tachometr"',
        "tachometer",
        "no role 'tachometr', neither here nor among the optional ones",
        "'tachometer'",
    ),
    "sizes for other size systems only": (
        "ignition",
        'size = "16 SAE", colour = "BK"',
        '«size = "1 mm² or 16 AWG", colour = "BK"',
        "points-lead",
        "no SAE size for {vehicle}",
        "beside the one in mm² or AWG",
    ),
    "insulations that do not fit the sizes": (
        "ignition",
        '"BK", insulation = "GPT" }',
        '"BK", «insulation = "GPT or PVC" }',
        "points-lead",
        "2 insulations for 1 sizes",
        "one, or one for each size",
    ),
    "both ends on one post by two names": (
        "vehicle",
        'to = "key.battery"',
        '«to = "battery.positive"',
        "key-feed",
        "both ends on one terminal",
        "two different terminals",
    ),
    "wire id taken by the vehicle": (
        "ignition",
        '{ id = "points-lead"',
        '{ «id = "key-feed"',
        "key-feed",
        "the wire 'key-feed' a second time (the first is in line 133 of {vehicle})",
        "another id",
    ),
    "wire id taken in the same file": (
        "ignition",
        '{ id = "points-lead"',
        '{ «id = "ignition-feed"',
        "ignition-feed",
        "the wire 'ignition-feed' a second time (the first is in line 28 of {ignition})",
        "another id",
    ),
    "role taken by the vehicle": (
        "charging",
        "[wiring]",
        '[[component]]\n«role = "ground"\nkind = "splice"\nname = "Splice"\nterminals = '
        '[ { name = "joint", label = "", connection = "splice" } ]\n[wiring]',
        "ground",
        "the role 'ground' a second time (the first is in line 86 of {vehicle})",
        "another role",
    ),
    "place twice": (
        "vehicle",
        '[[route]]\nfrom = "tray"',
        '[[place]]\n«id = "tray"\nname = "another"\nspace = "engine"\n[[route]]\nfrom = "tray"',
        "tray",
        "the place 'tray' a second time (the first is in line 10 of {vehicle})",
        "another id",
    ),
    "place without a route": (
        "vehicle",
        '[[route]]\nfrom = "tray"',
        '«[[place]]\nid = "roof"\nname = "roof"\nspace = "outside"\n[[route]]\nfrom = "tray"',
        "roof",
        "a place without a route",
        'a [[route]] with from or to = "roof"',
    ),
    "route to no place": (
        "vehicle",
        '[[route]]\nfrom = "tray"',
        '[[route]]\nfrom = "tray"\n«to = "dahs"\nlength = "1 m"\ncovering = "exposed"\n'
        'ambient = "40 °C"\n[[route]]\nfrom = "tray"',
        "route tray to dahs",
        "no place 'dahs'",
        "'dash', the nearest of: block, bulkhead, dash",
    ),
    "route back to where it began": (
        "vehicle",
        '[[route]]\nfrom = "tray"',
        '[[route]]\nfrom = "dash"\n«to = "dash"\nlength = "1 m"\ncovering = "exposed"\n'
        'ambient = "40 °C"\n[[route]]\nfrom = "tray"',
        "route dash to dash",
        "both ends at one place",
        "two different places",
    ),
    "route through no connector": (
        "vehicle",
        'through = "plug"',
        '«through = "plugg"',
        "route bulkhead to dash",
        "no connector 'plugg'",
        "'plug'",
    ),
    "route through another part": (
        "vehicle",
        'through = "plug"',
        '«through = "ground"',
        "route bulkhead to dash",
        "'ground', which is no connector",
        "'plug'",
    ),
    "loom that no route has": (
        "ignition",
        '"BU", insulation = "GPT"',
        '"BU", insulation = "GPT", «route = "engin loom"',
        "ignition-feed",
        "no loom 'engin loom'",
        "'engine loom', the nearest of: dash loom, eng",
    ),
    "loom that does not lie between the ends": (
        "vehicle",
        '"BK", insulation = "SGT"',
        '"BK", insulation = "SGT", «route = "dash loom"',
        "ground-cable",
        "no way from 'bulkhead' to 'tray' in the loom 'dash loom'",
        "a loom that lies between them",
    ),
    "loom of a wire that stays at one place": (
        "ignition",
        '"BK", insulation = "GPT"',
        '"BK", insulation = "GPT", «route = "engine loom"',
        "points-lead",
        "both ends at 'block', outside the loom 'engine loom'",
        "no `route`",
    ),
    "part at an unknown place": (
        "vehicle",
        'place = "tray"',
        '«place = "trey"',
        "battery",
        "no place 'trey'",
        "'tray', the nearest of: block, bulkhead, dash, tray",
    ),
    "part of a system at an unknown place": (
        "ignition",
        'name = "Coil"',
        'name = "Coil"\n«place = "blok"',
        "coil",
        "no place 'blok'",
        "'block', the nearest of: block, bulkhead, dash, tray",
    ),
    "mounting at an unknown place": (
        "vehicle",
        'coil = "block"',
        '«coil = "blok"',
        "coil",
        "no place 'blok'",
        "'block', the nearest of: block, bulkhead, dash, tray",
    ),
    "mounting of a part that is not fitted, at an unknown place": (
        "vehicle",
        "[mounting]",
        '[mounting]\n«dynamo = "blok"',
        "dynamo",
        "no place 'blok'",
        "'block', the nearest of: block, bulkhead, dash, tray",
    ),
    "slot without a system": (
        "configuration",
        '[systems]\nignition = "ignition.toml"\n',
        "[«systems]\n",
        "ignition",
        "no system for the slot 'ignition'",
        'ignition = "…" under [systems]',
    ),
    "misspelt slot": (
        "configuration",
        "charging = ",
        "«chargin = ",
        "chargin",
        "a slot 'chargin' that {vehicle} does not have",
        "'charging', the nearest of: charging, ignition",
    ),
}


@every_case("case", CASES.values())
def test_misfit_is_told_once_with_its_place_and_what_is_right(garage, case):
    file, old, new, subject, found, expected = case
    problem = garage.spoil(file, old, new).only_problem()
    files = {item: garage.path(item) for item in ("vehicle", "ignition", "charging")}
    assert problem.subject == subject
    assert problem.found == found.format(**files)
    assert expected in problem.expected


class TestMounting:
    def test_role_without_a_place_names_both_files(self, garage):
        garage.spoil("vehicle", 'coil = "block"\n', "")
        garage.spoil("ignition", '[[component]]\nrole = "coil"', '«[[component]]\nrole = "coil"')
        problem = garage.only_problem()
        assert problem.subject == "coil"
        assert problem.found == f"no place for the role 'coil' in {garage.path('vehicle')}"
        another = f"or another system for ignition in {garage.path('configuration')}"
        assert problem.expected == f'coil = "…" under [mounting] there; {another}'

    def test_misspelt_mounting_is_offered(self, garage):
        garage.spoil("vehicle", 'coil = "block"', 'coyl = "block"')
        (problem,) = garage.problems()
        assert problem.file == str(garage.path("ignition"))
        assert problem.found.endswith("vehicle.toml, which mounts 'coyl'")

    def test_place_in_the_system_needs_no_mounting(self, garage):
        garage.spoil("vehicle", 'coil = "block"\n', "")
        garage.spoil("ignition", 'name = "Coil"', 'name = "Coil"\nplace = "bulkhead"')
        assert garage.load().component("coil").place == "bulkhead"


class TestUnjoinedPlaces:
    def test_place_of_parts_and_wires_is_told_once_not_for_each_wire(self, garage):
        garage.spoil("vehicle", '[[place]]\nid = "tray"', '«[[place]]\nid = "tray"')
        garage.spoil("vehicle", 'from = "tray"\nto = "bulkhead"', 'from = "dash"\nto = "bulkhead"')
        problem = garage.only_problem()
        assert (problem.subject, problem.found) == ("tray", "a place without a route")

    @pytest.fixture
    def island(self, garage):
        """Block and roof are joined to each other, but to nothing else."""
        roof = (
            '[[place]]\nid = "roof"\nname = "roof"\nspace = "outside"\n\n[[route]]\nfrom = "tray"'
        )
        garage.spoil("vehicle", '[[route]]\nfrom = "tray"', roof)
        garage.spoil("vehicle", 'from = "bulkhead"\nto = "block"', 'from = "roof"\nto = "block"')
        return garage

    def test_each_wire_that_should_cross_is_told(self, island):
        problems = island.problems()
        assert [problem.subject for problem in problems] == [
            "charge-output",
            "charge-lamp",
            "ignition-feed",
        ]
        assert problems[2].found == "no route from 'block' to 'dash'"
        another = f"or another system for ignition in {island.path('configuration')}"
        assert problems[2].expected == f"a [[route]] that joins them; {another}"

    def test_measured_length_does_not_make_a_way(self, island):
        island.spoil(
            "ignition",
            'colour = "BU", insulation = "GPT"',
            'colour = "BU", insulation = "GPT", length = "2 m"',
        )
        assert "ignition-feed" in [problem.subject for problem in island.problems()]

    def test_one_place_needs_no_route(self, garage):
        text = garage.text("vehicle")
        begin, end = text.index('[[place]]\nid = "bulkhead"'), text.index("[mounting]")
        text = text[:begin] + text[end:]
        for place in ("bulkhead", "dash", "block"):
            text = text.replace(f'"{place}"', '"tray"')
        garage.write("vehicle", text)
        assert garage.problems() == ()


class TestStates:
    @every_case(
        ("state", "subject", "found", "expected"),
        [
            ('«loded]\nkey = "run"', "states", "the state 'loded'", "'loaded', the nearest of"),
            ('loaded]\n«kay = "run"', "kay", "no switch 'kay'", "'key'"),
            ('loaded]\n«coil = "run"', "coil", "'coil', which is no switch", "a switch"),
            ('loaded]\n«key = "ran"', "key", "no position 'ran' on 'key'", "'run', the nearest"),
        ],
    )
    def test_what_cannot_be_switched_is_told(self, garage, state, subject, found, expected):
        problem = garage.add("vehicle", f"[states.{state}").only_problem()
        assert (problem.subject, problem.found) == (subject, found)
        assert problem.expected.startswith(expected)

    def test_switch_that_a_change_removes_is_not_missed(self, garage):
        switch = (
            '[[component]]\nrole = "horn_button"\nkind = "switch"\nname = "Horn"\nplace = "dash"\n'
            'terminals = [ { name = "in", label = "", connection = "stud M4" }, '
            '{ name = "out", label = "", connection = "stud M4" } ]\n'
            'ratings = { positions = { off = [], on = [["in", "out"]] } }\n'
        )
        garage.add("vehicle", f'{switch}[states.loaded]\nhorn_button = "on"')
        garage.add("configuration", '[as_found]\nremove_components = ["horn_button"]')
        assert garage.load().switch_positions == {"loaded": {}}

    def test_switch_with_faulty_positions_is_told_once(self, garage):
        garage.spoil("vehicle", 'run = [["battery", "ignition"]]', "«run = 3")
        garage.add("vehicle", '[states.loaded]\nkey = "run"')
        garage.only_problem()


class TestRoots:
    def test_neither_vehicle_nor_base(self, garage):
        garage.spoil("configuration", 'vehicle = "vehicle.toml"\n', "")
        (problem,) = garage.problems()
        assert (problem.line, problem.found) == (1, "neither vehicle nor based_on")
        assert problem.expected == "one of the two"

    @every_case("key", ["vehicle", "based_on"])
    def test_empty_name(self, garage, key):
        garage.spoil("configuration", 'vehicle = "vehicle.toml"', f'«{key} = ""')
        problem = garage.only_problem()
        assert problem.subject == key
        assert "'', which is neither a file nor a shipped" in problem.found

    def test_both_vehicle_and_base(self, garage):
        garage.spoil("configuration", "[systems]", '«based_on = "van_upgraded"\n\n[systems]')
        problem = garage.only_problem()
        assert problem.found == "both vehicle and based_on"
        assert problem.expected == "one of the two"

    def test_configuration_based_on_itself(self, garage):
        garage.spoil(
            "configuration", 'vehicle = "vehicle.toml"', '«based_on = "./configuration.toml"'
        )
        problem = garage.only_problem()
        assert problem.found == "a circle: configuration → configuration"
        assert problem.expected == "a configuration that is not based on this one"

    @every_case("names", [("a", "b"), ("a", "b", "c")])
    def test_circle_is_told_with_its_members(self, garage, names):
        for name, base in zip(names, (*names[1:], names[0]), strict=True):
            mark = "«" if base == names[0] else ""
            garage.write(
                name,
                f'[configuration]\ntitle = "{name}"\nsummary = ""\n{mark}based_on = "{base}.toml"',
            )
        problem = garage.only_problem(names[0])
        assert problem.subject == "based_on"
        assert problem.found == f"a circle: {' → '.join((*names, names[0]))}"

    def test_only_the_circle_is_told_not_the_way_to_it(self, garage):
        for name, base in (("start", "a"), ("a", "b"), ("b", "a")):
            garage.write(
                name,
                f'[configuration]\ntitle = "{name}"\nsummary = "s"\nbased_on = "{base}.toml"\n',
            )
        (problem,) = garage.problems("start")
        assert problem.file == str(garage.path("b"))
        assert problem.found == "a circle: a → b → a"

    def test_unknown_base(self, garage):
        garage.spoil("configuration", 'vehicle = "vehicle.toml"', '«based_on = "van_upgradet"')
        problem = garage.only_problem()
        assert problem.subject == "based_on"
        assert "did you mean 'van_upgraded'?" in problem.found


class TestSystems:
    def test_charging_system_in_the_slot_for_ignition_is_one_problem(self, garage):
        garage.spoil("configuration", 'ignition = "ignition.toml"', '«ignition = "charging.toml"')
        problem = garage.only_problem()
        assert problem.subject == "ignition"
        assert problem.found == "'charging', a system for the slot 'charging'"
        assert problem.expected == "a system for the slot 'ignition'"

    def test_slot_chosen_in_the_base_is_told_in_the_base(self, garage):
        garage.spoil("configuration", '"ignition.toml"', '"charging.toml"')
        garage.write(
            "mine",
            '[configuration]\ntitle = "m"\nsummary = "s"\nbased_on = "configuration.toml"\n',
        )
        (problem,) = garage.problems("mine")
        assert problem.file == str(garage.path("configuration"))

    def test_slot_that_is_too_many(self, garage):
        garage.write("spare", '[system]\nname = "Spare"\nslot = "heating"\nsummary = "s"\n')
        garage.spoil("configuration", "[systems]", '[systems]\n«heating = "spare.toml"')
        problem = garage.only_problem()
        assert problem.found == f"a slot 'heating' that {garage.path('vehicle')} does not have"
        assert problem.expected == "'charging', the nearest of: charging, ignition"

    def test_slot_named_twice_in_the_vehicle_is_asked_for_once(self, garage):
        garage.spoil("vehicle", '["ignition", "charging"]', '["ignition", "ignition", "charging"]')
        garage.spoil("configuration", 'ignition = "ignition.toml"\n', "")
        assert len(garage.problems()) == 1
