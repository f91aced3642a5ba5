"""Single values that are wrong: one spoilt place, one problem, at that place."""

from every_case import every_case

CASES = {
    "unknown key": (
        "vehicle",
        'size_system = "SAE"',
        'size_system = "SAE"\n«colour = "red"',
        "vehicle colour",
        "unknown key 'colour'",
        "ground, highest_test_speed, marked, optional_slots, rules, size_system, slots,",
    ),
    "misspelt key": (
        "ignition",
        'colour = "BU"',
        '«color = "BU"',
        "ignition-feed color",
        "unknown key 'color'",
        "'colour', the nearest of: circuit, colour",
    ),
    "unknown table": (
        "vehicle",
        "[mounting]",
        "[«mountings]",
        "mountings",
        "unknown key 'mountings'",
        "'mounting', the nearest of: component, mounting",
    ),
    "missing key": (
        "ignition",
        '{ id = "points-lead", circuit = "ignition primary",',
        '«{ id = "points-lead",',
        "points-lead",
        "no 'circuit'",
        'circuit = "main feed"',
    ),
    "misspelt kind": (
        "ignition",
        'kind = "coil"',
        '«kind = "coyl"',
        "coil kind",
        '"coyl"',
        "'coil', the nearest of: alternator_external_regulator, alter",
    ),
    "kind as people call it": (
        "ignition",
        'kind = "coil"',
        '«kind = "horn"',
        "coil kind",
        '"horn"',
        "'load' for that",
    ),
    "kind like no other": (
        "ignition",
        'kind = "coil"',
        '«kind = "?"',
        "coil kind",
        '"?"',
        "one of: alternator_external_regulator, alternator_internal_regulator",
    ),
    "number without unit": (
        "vehicle",
        '\nvoltage = "12 V"',
        '\n«voltage = "12"',
        "vehicle voltage",
        '"12" without a unit',
        "a voltage with its unit (V, mV or kV)",
    ),
    "number without quotes": (
        "vehicle",
        '\nvoltage = "12 V"',
        "\n«voltage = 12",
        "vehicle voltage",
        "the bare number 12",
        "a voltage as text in quotes",
    ),
    "wrong dimension": (
        "vehicle",
        'length = "0.8 m"',
        '«length = "0.8 kg"',
        "route tray to bulkhead length",
        '"0.8 kg", which is a mass',
        "a length, e.g. 0.8 m",
    ),
    "negative length": (
        "vehicle",
        'length = "0.8 m"',
        '«length = "-0.8 m"',
        "route tray to bulkhead length",
        '"-0.8 m"',
        "a length above zero",
    ),
    "zero length": (
        "vehicle",
        'length = "0.8 m"',
        '«length = "0 m"',
        "route tray to bulkhead length",
        '"0 m"',
        "a length above zero",
    ),
    "zero measured length": (
        "ignition",
        '"BK", insulation = "GPT"',
        '"BK", insulation = "GPT", «length = "0 mm"',
        "points-lead length",
        '"0 mm"',
        "a length above zero",
    ),
    "length of another planet": (
        "vehicle",
        'length = "0.8 m"',
        '«length = "8e30 m"',
        "route tray to bulkhead length",
        '"8e30 m", too large for any vehicle',
        "a length",
    ),
    "length of an atom": (
        "vehicle",
        'length = "0.8 m"',
        '«length = "8e-30 m"',
        "route tray to bulkhead length",
        '"8e-30 m", too small for any vehicle',
        "a length",
    ),
    "zero voltage": (
        "vehicle",
        '\nvoltage = "12 V"',
        '\n«voltage = "0 V"',
        "vehicle voltage",
        '"0 V"',
        "a voltage above zero",
    ),
    "decimal comma": (
        "vehicle",
        'length = "0.8 m"',
        '«length = "0,8 m"',
        "route tray to bulkhead length",
        '"0,8 m" with a comma',
        "a decimal point: write 0.8 m",
    ),
    "unknown unit": (
        "vehicle",
        'length = "0.8 m"',
        '«length = "8 dm"',
        "route tray to bulkhead length",
        '"8 dm" with an unknown unit',
        "(nearest: 8 m",
    ),
    "temperature below absolute zero": (
        "vehicle",
        'ambient = "50 °C"',
        '«ambient = "-300 °C"',
        "route bulkhead to dash ambient",
        '"-300 °C"',
        "a temperature of -273.15 °C or above",
    ),
    "unknown colour": (
        "ignition",
        'colour = "BU"',
        '«colour = "PINK"',
        "ignition-feed colour",
        '"PINK"',
        "the letter code of pink, PK",
    ),
    "size without system": (
        "ignition",
        'size = "14 SAE"',
        '«size = "14"',
        "ignition-feed size",
        '"14" without a size system',
        "(nearest: 14 SAE or 14 AWG)",
    ),
    "unknown size": (
        "ignition",
        'size = "14 SAE"',
        '«size = "15 SAE"',
        "ignition-feed size",
        '"15 SAE"',
        "a standard SAE size (nearest: 16 SAE or 14 SAE)",
    ),
    "unknown insulation": (
        "ignition",
        '"BU", insulation = "GPT"',
        '"BU", «insulation = "GPTX"',
        "ignition-feed insulation",
        '"GPTX"',
        "(nearest: GPT",
    ),
    "unknown circuit": (
        "ignition",
        'circuit = "ignition feed"',
        '«circuit = "ignition fed"',
        "ignition-feed circuit",
        '"ignition fed"',
        "'ignition feed', the nearest of: accessory,",
    ),
    "unknown conductor": (
        "ignition",
        '"BU", insulation = "GPT"',
        '"BU", insulation = "GPT", «conductor = "coper"',
        "ignition-feed conductor",
        '"coper"',
        "'copper', the nearest of: aluminium, copper, fusible link,",
    ),
    "unknown covering": (
        "vehicle",
        'covering = "sleeve"',
        '«covering = "sleve"',
        "route tray to bulkhead covering",
        '"sleve"',
        "'sleeve', the nearest of: exposed, sleeve",
    ),
    "unknown ground": (
        "vehicle",
        'ground = "negative"',
        '«ground = "minus"',
        "vehicle ground",
        '"minus"',
        "of: negative, positive",
    ),
    "unknown space": (
        "vehicle",
        'space = "cabin"',
        '«space = "cabn"',
        "dash space",
        '"cabn"',
        "'cabin', the nearest of: cabin, engine, outside",
    ),
    "unknown metal": (
        "vehicle",
        'space = "cabin"\nmetal = "body"',
        'space = "cabin"\n«metal = "wood"',
        "dash metal",
        '"wood"',
        "body, engine, frame",
    ),
    "unknown joint": (
        "vehicle",
        'connection = "stud M8"',
        '«connection = "bolt M8"',
        "ground.stud connection",
        '"bolt M8"',
        "blade, bullet, case, cavity, post, screw, splice",
    ),
    "unknown stud size": (
        "vehicle",
        'connection = "stud M8"',
        '«connection = "stud M81"',
        "ground.stud connection",
        '"stud M81"',
        "stud with a size: 'M8', the nearest of: 1/2 in",
    ),
    "joint without its size": (
        "vehicle",
        'connection = "stud M8"',
        '«connection = "stud"',
        "ground.stud connection",
        '"stud"',
        "stud with a size: one of: 1/2 in, 1/4 in",
    ),
    "size where there is none": (
        "ignition",
        'connection = "case"',
        '«connection = "case M5"',
        "distributor.case connection",
        '"case M5"',
        "case without a size",
    ),
    "connection that is no text": (
        "vehicle",
        'connection = "stud M8"',
        "«connection = 8",
        "ground.stud connection",
        "the bare number 8",
        'a text such as "stud M6"',
    ),
    "reference without terminal": (
        "ignition",
        'to = "coil.positive"',
        '«to = "coil"',
        "ignition-feed to",
        '"coil"',
        "role.terminal, such as alternator.output",
    ),
    "id that is no name": (
        "ignition",
        'id = "points-lead"',
        '«id = "points lead"',
        "points lead id",
        '"points lead"',
        "a name of letters, digits, - and _ (at most 60)",
    ),
    "role that no wire can name": (
        "charging",
        'role = "alternator"',
        '«role = "Alternator"',
        "Alternator role",
        '"Alternator"',
        "a name of small letters, digits and _ (at most 60)",
    ),
    "empty name": (
        "ignition",
        'name = "Coil"',
        '«name = " "',
        "coil name",
        '" "',
        "a text that is not empty",
    ),
    "control character": (
        "ignition",
        'name = "Coil"',
        '«name = "Coil\\u0007"',
        "coil name",
        "the control character U+0007",
        "a text that can be printed",
    ),
    "mark that turns the direction of writing": (
        "ignition",
        'name = "Coil"',
        '«name = "Coil\\u202E"',
        "coil name",
        "the control character U+202E",
        "a text that can be printed",
    ),
    "endless text": (
        "ignition",
        'name = "Coil"',
        f'«name = "{"Coil" * 600}"',
        "coil name",
        "a text of 2400 characters",
        "at most 2000",
    ),
    "text for a number": (
        "vehicle",
        "walk = 3",
        '«walk = "3"',
        "dash walk",
        '"3"',
        "a whole number up to 10000, without quotes",
    ),
    "fraction for a whole number": (
        "vehicle",
        "walk = 3",
        "«walk = 3.5",
        "dash walk",
        "the bare number 3.5",
        "a whole number up to 10000",
    ),
    "truth for a number": (
        "vehicle",
        "walk = 3",
        "«walk = true",
        "dash walk",
        "true",
        "a whole number up to 10000",
    ),
    "number beyond counting": (
        "vehicle",
        "walk = 3",
        f"«walk = 0x{'f' * 5000}",
        "dash walk",
        "a huge bare number",
        "a whole number up to 10000",
    ),
    "list for a text": (
        "ignition",
        'name = "Coil"',
        '«name = ["Coil"]',
        "coil name",
        "a list",
        "a text in quotes",
    ),
    "number for a text": (
        "ignition",
        'name = "Coil"',
        "«name = 7",
        "coil name",
        "the bare number 7",
        "a text in quotes",
    ),
    "date for a text": (
        "ignition",
        'name = "Coil"',
        "«name = 1966-05-01",
        "coil name",
        "the date or time 1966-05-01",
        "a text in quotes",
    ),
    "infinity for a text": (
        "ignition",
        'name = "Coil"',
        "«name = inf",
        "coil name",
        "the bare number inf",
        "a text in quotes",
    ),
    "truth for a text": (
        "ignition",
        'name = "Coil"',
        "«name = false",
        "coil name",
        "false",
        "a text in quotes",
    ),
    "table for a text": (
        "ignition",
        'name = "Coil"',
        '«name = { words = "Coil" }',
        "coil name",
        "a table",
        "a text in quotes",
    ),
    "list for a kind": (
        "ignition",
        'kind = "coil"',
        '«kind = ["coil"]',
        "coil kind",
        "a list",
        "a text in quotes",
    ),
    "number beyond counting for a kind": (
        "ignition",
        'kind = "coil"',
        f"«kind = 0x{'f' * 5000}",
        "coil kind",
        "a huge bare number",
        "a text in quotes",
    ),
    "list for a size": (
        "ignition",
        'size = "14 SAE"',
        '«size = ["14 SAE"]',
        "ignition-feed size",
        "a list",
        "a text in quotes",
    ),
    "number beyond counting for the end of a route": (
        "vehicle",
        'from = "bulkhead"\nto = "dash"',
        f'«from = 0x{"f" * 5000}\nto = "dash"',
        "route 2 from",
        "a huge bare number",
        "a text in quotes",
    ),
    "text for a list": (
        "vehicle",
        'slots = ["ignition", "charging"]',
        '«slots = "ignition"',
        "vehicle slots",
        '"ignition"',
        "a list [ … ]",
    ),
    "number in a list of texts": (
        "vehicle",
        'slots = ["ignition", "charging"]',
        'slots = ["ignition", "charging", «3]',
        "vehicle slots 3",
        "the bare number 3",
        "a text in quotes",
    ),
    "text among the wires": (
        "ignition",
        '  { id = "points-lead"',
        '  «"points-lead",\n  { id = "points-lead"',
        "wiring wires 2",
        '"points-lead"',
        "a table",
    ),
    "text for a table of ratings": (
        "ignition",
        'ratings = { primary_resistance = "3 ohm" }',
        '«ratings = "3 ohm"',
        "coil ratings",
        '"3 ohm"',
        "a table",
    ),
    "misspelt key that may be left out": (
        "vehicle",
        '"charge_lamp"\nkind = "lamp"',
        '"charge_lamp"\nkind = "lamp"\n«terminal = 1',
        "charge_lamp terminal",
        "unknown key 'terminal'",
        "'terminals', the nearest of: condition, kind,",
    ),
}


@every_case("case", CASES.values())
def test_wrong_value_is_told_with_its_place_and_what_is_right(garage, case):
    file, old, new, subject, found, expected = case
    problem = garage.spoil(file, old, new).only_problem()
    assert problem.subject == subject
    assert problem.found == found
    assert expected in problem.expected


RATINGS = {
    "unknown rating": (
        "ignition",
        'dwell_angle = "52 deg"',
        '«dwel_angle = "52 deg"',
        "distributor dwel_angle",
        "the rating 'dwel_angle' on a distributor with breaker points",
        "'dwell_angle', the nearest of: condenser, cylinders, dwell_angle",
    ),
    "rating on a part without ratings": (
        "vehicle",
        '"31", connection = "stud M8" },\n]',
        '"31", connection = "stud M8" },\n]\nratings = { «range = "5 A" }',
        "ground range",
        "the rating 'range' on a ground point",
        "no ratings: a ground point has",
    ),
    "rating of the wrong dimension": (
        "ignition",
        'primary_resistance = "3 ohm"',
        '«primary_resistance = "3 A"',
        "coil primary_resistance",
        '"3 A", which is a current',
        "a resistance, e.g. 3",
    ),
    "required rating missing": (
        "ignition",
        'ratings = { primary_resistance = "3 ohm" }',
        "«ratings = { }",
        "coil ratings",
        "an ignition coil without the rating 'primary_resistance'",
        'primary_resistance = "1.5 ohm"',
    ),
    "zero rating": (
        "charging",
        'rated_output = "45 A"',
        '«rated_output = "0 A"',
        "alternator rated_output",
        '"0 A"',
        "a current above zero",
    ),
    "text for a count": (
        "ignition",
        "cylinders = 4",
        '«cylinders = "4"',
        "distributor cylinders",
        '"4"',
        "a whole number from 1 to 1000, without quotes",
    ),
    "no cylinders": (
        "ignition",
        "cylinders = 4",
        "«cylinders = 0",
        "distributor cylinders",
        "the bare number 0",
        "a whole number from 1 to 1000",
    ),
    "angle without unit": (
        "ignition",
        'dwell_angle = "52 deg"',
        '«dwell_angle = "52"',
        "distributor dwell_angle",
        '"52"',
        'an angle up to 360 degrees, such as "38 deg"',
    ),
    "angle beyond a turn": (
        "ignition",
        'dwell_angle = "52 deg"',
        '«dwell_angle = "520 deg"',
        "distributor dwell_angle",
        '"520 deg"',
        "an angle up to 360 degrees",
    ),
    "unknown blade of a connector": (
        "vehicle",
        'cavity_blade = "6.3 mm"',
        '«cavity_blade = "6.4 mm"',
        "plug cavity_blade",
        '"6.4 mm"',
        "'6.3 mm', the nearest of: 2.8 mm, 4.8 mm, 6.3 mm, 9.5",
    ),
    "terminal missing": (
        "vehicle",
        'terminals = [\n  { name = "stud", label = "31", connection = "stud M8" },\n]',
        "«terminals = []",
        "ground terminals",
        "a ground point without the terminal 'stud'",
        "terminals with 'stud'",
    ),
    "terminal twice": (
        "vehicle",
        '  { name = "wiper", label = "1"',
        '  «{ name = "supply", label = "2", '
        'connection = "screw M5" },\n  { name = "wiper", label = "1"',
        "fuses.supply",
        "the terminal 'supply' a second time",
        "each terminal once",
    ),
    "terminal that the kind does not have": (
        "charging",
        '  { name = "case"',
        '  «{ name = "lamb", label = "X", connection = "stud M4" },\n  { name = "case"',
        "alternator.lamb",
        "the terminal 'lamb' on an internally regulated alternator",
        "'lamp', the nearest of: case, ground, ignition, lamp, output, sense, tachometer",
    ),
    "terminal on a part that has none": (
        "vehicle",
        "terminals = []",
        'terminals = [ «{ name = "in", label = "1", connection = "stud M4" } ]',
        "plug.in",
        "the terminal 'in' on a connector",
        "none: a connector has no terminals",
    ),
    "position names no terminal": (
        "vehicle",
        'run = [["battery", "ignition"]]',
        'run = [["battery", «"ignitoin"]]',
        "key",
        "no terminal 'ignitoin' in position 'run'",
        "'ignition', the nearest of: battery,",
    ),
    "position without groups": (
        "vehicle",
        'run = [["battery", "ignition"]]',
        '«run = ["battery", "ignition"]',
        "key run",
        "position 'run' without groups",
        'groups of joined terminals such as [["in",',
    ),
    "position that is no list": (
        "vehicle",
        'run = [["battery", "ignition"]]',
        "«run = true",
        "key run",
        "position 'run' without groups",
        'groups of joined terminals such as [["in",',
    ),
    "group of one": (
        "vehicle",
        'run = [["battery", "ignition"]]',
        'run = [«["battery"]]',
        "key",
        "a group of 1 in position 'run'",
        "two or more terminals that it joins",
    ),
    "terminal twice in a position": (
        "vehicle",
        'run = [["battery", "ignition"]]',
        'run = [["battery", "ignition", «"battery"]]',
        "key",
        "terminal 'battery' a second time in position 'run'",
        "each terminal once, all that",
    ),
    "number in a group": (
        "vehicle",
        'run = [["battery", "ignition"]]',
        'run = [["battery", "ignition", «15]]',
        "key",
        "the bare number 15 in position 'run'",
        "the name of a terminal",
    ),
    "no positions": (
        "vehicle",
        'positions = { off = [], run = [["battery", "ignition"]] }',
        "«positions = {}",
        "key positions",
        "a table",
        'positions such as { off = [], on = [["in", "out"]] }',
    ),
    "fuse without unit": (
        "vehicle",
        'rating = "10 A"',
        '«rating = "10"',
        "fuses rating",
        '"10" without a unit',
        "a current with its unit (A or mA)",
    ),
    "fuse of zero": (
        "vehicle",
        'rating = "10 A"',
        '«rating = "0 A"',
        "fuses rating",
        '"0 A"',
        "a current above zero",
    ),
    "fuse to no terminal": (
        "vehicle",
        'to = "wiper", rating',
        '«to = "wipers", rating',
        "fuses to",
        "no terminal 'wipers'",
        "'wiper', the nearest of: supply, wiper",
    ),
    "fuse across itself": (
        "vehicle",
        'to = "wiper", rating',
        '«to = "supply", rating',
        "fuses to",
        "a fuse with both ends on one terminal",
        "two different terminals",
    ),
    "fuse with an unknown key": (
        "vehicle",
        'rating = "10 A" }',
        'rating = "10 A", «colour = "red" }',
        "fuses colour",
        "unknown key 'colour' of a fuse",
        "one of: from, rating, to",
    ),
    "fuse without its rating": (
        "vehicle",
        '{ from = "supply", to = "wiper", rating = "10 A" }',
        '«{ from = "supply", to = "wiper" }',
        "fuses",
        "a fuse without 'rating'",
        "fuses such as [ { from =",
    ),
    "fuse that is no table": (
        "vehicle",
        '{ from = "supply", to = "wiper", rating = "10 A" }',
        '«"10 A"',
        "fuses",
        '"10 A" as a fuse',
        "fuses such as [ { from =",
    ),
    "no fuses": (
        "vehicle",
        'fuses = [\n  { from = "supply", to = "wiper", rating = "10 A" },\n]',
        "«fuses = []",
        "fuses fuses",
        "a list",
        "fuses such as [ { from =",
    ),
}


@every_case("case", RATINGS.values())
def test_wrong_rating_or_terminal_is_told_with_its_place(garage, case):
    file, old, new, subject, found, expected = case
    problem = garage.spoil(file, old, new).only_problem()
    assert problem.subject == subject
    assert problem.found == found
    assert expected in problem.expected


WIRES = {
    "resistance wire without ohms": (
        '"BU", insulation = "GPT"',
        '"BU", insulation = "GPT", «conductor = "resistance wire"',
        "ignition-feed conductor",
        "a resistance wire without its ohms",
        'resistance = "1.35 ohm"',
    ),
    "plain wire with ohms": (
        '"BU", insulation = "GPT"',
        '"BU", insulation = "GPT", «resistance = "1.35 ohm"',
        "ignition-feed resistance",
        "a resistance on plain wire",
        'conductor = "resistance wire"',
    ),
    "link with ohms": (
        '"BU", insulation = "GPT"',
        '"BU", insulation = "GPT", conductor = "fusible link", «resistance = "1 ohm"',
        "ignition-feed resistance",
        "a resistance on plain wire",
        'conductor = "resistance wire"',
    ),
    "both ends on one terminal": (
        'to = "coil.positive"',
        '«to = "key.ignition"',
        "ignition-feed to",
        "both ends on one terminal",
        "two different terminals",
    ),
}


@every_case("case", WIRES.values())
def test_wire_that_is_wrong_as_a_whole_is_told_once(garage, case):
    old, new, subject, found, expected = case
    problem = garage.spoil("ignition", old, new).only_problem()
    assert (problem.subject, problem.found) == (subject, found)
    assert expected in problem.expected


class TestTables:
    def test_table_where_one_is_due_is_not_written_as_a_list(self, garage):
        problem = garage.spoil("ignition", "[wiring]", "[[«wiring]]").only_problem()
        assert (problem.subject, problem.found) == ("wiring", "a list")
        assert problem.expected == "its header in [ ], not [[ ]]"

    def test_list_of_tables_is_not_written_as_one_table(self, garage):
        garage.spoil("configuration", "[systems]", "[changes.«add_component]\nrole = 1\n[systems]")
        problem = garage.only_problem()
        assert (problem.subject, problem.found) == ("changes add_component", "one table in [ ]")
        assert problem.expected == "a list: its header in [[ ]], once for each"

    @every_case("value", ['"block"', "3", "true", "[]", "1966-05-01"])
    @every_case("table", ["overrides", "changes", "as_found"])
    def test_table_of_a_configuration_is_a_table(self, garage, table, value):
        garage.write("configuration", f"«{table} = {value}\n{garage.text('configuration')}")
        problem = garage.only_problem()
        assert problem.subject == table
        assert problem.expected == "a table"

    def test_mounting_is_a_table(self, garage):
        mounting = '[mounting]\nalternator = "block"\ncoil = "block"\ndistributor = "block"\n'
        text = garage.text("vehicle")
        assert mounting in text
        garage.write("vehicle", f"«mounting = []\n{text.replace(mounting, '')}")
        problem = garage.only_problem()
        assert (problem.subject, problem.found) == ("mounting", "a list")

    def test_place_of_a_mounting_is_a_text(self, garage):
        problem = garage.spoil("vehicle", 'coil = "block"', "«coil = 3").only_problem()
        assert (problem.subject, problem.found) == ("mounting coil", "the bare number 3")

    def test_overrides_of_a_role_are_a_table(self, garage):
        problem = garage.add("configuration", "[overrides]\n«coil = 3").only_problem()
        assert (problem.subject, problem.found) == ("overrides coil", "the bare number 3")
        assert problem.expected == "a table"

    def test_list_longer_than_any_wiring_is_refused_as_a_whole(self, garage):
        garage.add("configuration", "[changes]\n«add_wires = [" + "{}," * 5001 + "]")
        assert garage.only_problem().found == "a list of 5001"

    def test_missing_table_is_asked_for_by_its_header(self, garage):
        text = garage.text("ignition")
        garage.write("ignition", text[text.index("[[component]]") :])
        (problem,) = garage.problems()
        assert (problem.line, problem.found) == (0, "no [system]")
        assert problem.expected == "a table [system]"


class TestWording:
    def test_one_slip_of_the_pen_is_one_problem(self, garage):
        garage.spoil("ignition", "primary_resistance", "«primary_resistence")
        garage.spoil("charging", '  { name = "output"', '  «{ name = "outptu"')
        garage.spoil("vehicle", "size_system", "«size_sistem")
        problems = garage.problems()
        garage.assert_at_marks(problems)

    def test_messages_are_one_printable_line_whatever_the_keys_hold(self, garage):
        garage.add("configuration", '[overrides]\n"a\\nb\\u001B[31m" = 1')
        (problem,) = garage.problems()
        assert str(problem).isprintable()
        assert "a b [31m" in str(problem)

    def test_long_names_are_cut(self, garage):
        garage.add("configuration", f"[overrides]\n{'x' * 5000} = {{}}\n{'y' * 5000} = 1")
        assert all(len(problem.found) < 100 for problem in garage.problems())
