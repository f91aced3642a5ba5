"""The shop's own files: every fault at once, with line and column, and the nearest right name."""

from decimal import Decimal

import pytest
from every_case import every_case
from pair_facts import planned

from upgrade_planner.configuration.files.shipped import shipped_folder
from upgrade_planner.errors import ConfigurationError
from upgrade_planner.kit.labour_table import Minutes, read_labour_table, shipped_labour_table
from upgrade_planner.quote.rates import read_rates, shipped_rates

SHOP = shipped_folder("profiles") / "shop"


@pytest.fixture
def changed(tmp_path):
    """A shipped file of the shop with texts replaced, and the problems of reading it."""

    def make(name, *replacements):
        text = (SHOP / name).read_text(encoding="utf-8")
        for old, new in replacements:
            assert text.count(old) == 1, old
            text = text.replace(old, new)
        path = tmp_path / name
        path.write_text(text, encoding="utf-8")
        return path

    return make


def problems_of(read, path):
    with pytest.raises(ConfigurationError) as caught:
        read(path)
    return caught.value.problems


def line_of(path, text):
    lines = path.read_text(encoding="utf-8").splitlines()
    return next(number for number, line in enumerate(lines, 1) if text in line)


class TestRates:
    def test_shipped_rates_are_exact(self):
        rates = shipped_rates()
        assert rates.work.of("diagnosis").rate == Decimal("72.00")
        assert rates.margin.on("cable") == 40
        assert rates.margin.on("tie") == 25

    @every_case(
        ("old", "new", "found", "expected"),
        [
            ('rate  = "72.00"', "rate  = 72.50", "72.5", "in quotes"),
            ('rate  = "72.00"', 'rate  = "-3"', "negative", "zero or more"),
            ('rate  = "72.00"', "rate  = -3", "negative", "zero or more"),
            ('rate  = "72.00"', 'rate  = "72,50"', "72,50", "a point"),
            ('rate  = "72.00"', 'rate  = "1e3"', "1e3", "a point"),
            ('rate  = "72.00"', "rate  = true", "", "an amount"),
            ('rate  = "72.00"', 'rate  = "99999999"', "99999999", "at most"),
            ('rate  = "72.00"', 'rte  = "72.00"', "unknown key 'rte'", "'rate', the nearest"),
            ('rate  = "72.00"', "", "no 'rate'", 'rate = "58.00"'),
            ("[work.bench]", "[work.benhc]", "unknown key 'benhc'", "'bench', the nearest"),
            ("[sundries]", "[sundry]", "unknown key 'sundry'", "'sundries', the nearest"),
            ("cable = 40", "cabel = 40", "unknown name 'cabel'", "'cable', the nearest"),
            ("cable = 40", "cable = 40.5", "40.5", "in quotes"),
            ("percent = 20", "percent = 2000", "2000", "at most 1000"),
            ('cores    = "none"', 'cores    = "non"', "unknown name 'non'", "'none', the nearest"),
            (
                "[cores.starter]",
                "[cores.startr]",
                "unknown name 'startr'",
                "'starter', the nearest",
            ),
            ('deposit = "45.00"', "deposit = 45.01", "45.01", "in quotes"),
            ('deposit = "45.00"', "", "no 'deposit'", 'deposit = "40.00"'),
            ('takes   = ["starter"]', 'takes   = ["coal"]', "unknown name 'coal'", "'coil', the"),
            ('mode   = "half up"', 'mode   = "half down"', "half down", "half up"),
            ('totals = "0.01"', 'totals = "0.001"', "0.001", "multiple of 0.01"),
            ('hours  = "0.1"', "hours  = 0", "0", "above zero"),
            ('percent = "2.5"', "", "no 'percent'", "percent with of"),
            ('percent = "2.5"', 'percent = "2.5"\namount = 3', "'amount' with of", "'percent'"),
            ("validity_days = 30", "validity_days = 0", "0", "from 1"),
            ("payment_days = 14", "payment_days = 0", "0", "from 1"),
            ('kind     = "estimate"', 'kind     = "guess"', '"guess"', "fixed price"),
            ('language = "en"', 'language = "fr"', '"fr"', "de-AT"),
            ('tax_number = ""', 'tax_number = "a\\u0007"', "U+0007", "can be printed"),
            ('tax_number = ""', 'tax_number = "a\\u202e"', "a", "can be printed"),
            ('"Account 000 INVENTED 000"', '"a\\u0000"', "U+0000", "can be printed"),
            ('rate  = "72.00"', 'rate  = "0.00"', '"0.00"', "above zero"),
            ('code     = "GBP"', 'code     = "pound"', '"pound"', "three capital"),
            ("decimals = 2", "decimals = 9", "9", "from 0 to 4"),
        ],
    )
    def test_a_fault_is_told(self, changed, old, new, found, expected):
        problems = problems_of(read_rates, changed("rates.toml", (old, new)))
        assert len(problems) == 1, problems
        assert found in problems[0].found
        assert expected in problems[0].expected
        assert problems[0].line > 0

    def test_a_missing_table_is_named(self, changed):
        path = changed("rates.toml", ("[margin]\npercent = 25", ""), ("[margin.sorts]", "[tac]"))
        found = {problem.found for problem in problems_of(read_rates, path)}
        assert found == {"no [margin]", "unknown key 'tac'"}

    def test_all_faults_come_at_once_each_at_its_line(self, changed):
        path = changed(
            "rates.toml",
            ('rate  = "72.00"', "rate  = 72.5"),
            ("cable = 40", 'cable = "-1"'),
            ('deposit = "45.00"', "deposit = []"),
            ("validity_days = 30", 'validity_days = "30"'),
        )
        wrong = ("rate  = 72.5", 'cable = "-1"', "deposit = []", 'validity_days = "30"')
        lines = [problem.line for problem in problems_of(read_rates, path)]
        assert lines == [line_of(path, text) for text in wrong]

    def test_an_amount_for_each_job(self, changed):
        path = changed(
            "rates.toml",
            ('of      = "labour and parts"', 'of      = "job"'),
            ('percent = "2.5"', 'amount = "15.00"'),
        )
        assert read_rates(path).sundries.amount == 15


class TestLabour:
    @every_case(
        ("old", "new", "found", "expected"),
        [
            ("uncap_wire    = [3, 5, 10]", "uncap_wire    = [3, 5]", "list of 2", "three numbers"),
            ("uncap_wire    = [3, 5, 10]", "uncap_wire    = [5, 3, 10]", "5, 3, 10", "do not fall"),
            ("uncap_wire    = [3, 5, 10]", "uncap_wire    = [-3, 5, 10]", "-3", "from 0"),
            ("uncap_wire    = [3, 5, 10]", "uncap_wire    = [3, nan, 10]", "nan", "from 0"),
            ("uncap_wire    = [3, 5, 10]", 'uncap_wire    = ["3", 5, 10]', '"3"', "from 0"),
            ("uncap_wire    = [3, 5, 10]", "uncap_wire    = 5", "5", "three numbers"),
            ("uncap_wire    = [3, 5, 10]", "", "no 'uncap_wire'", "[1, 1.5, 4]"),
            ("in_loom       = 1.2", "in_loom       = 0.9", "0.9", "from 1 to 100"),
            ("[0.85, 1.0, 1.9]", "[0.5, 0.8, 1.9]", "0.5, 0.8, 1.9", "1 or more"),
            ("[parts.starter]", "[parts.startr]", "unknown name 'startr'", "'starter', the"),
            (
                "road-test       = [4",
                "raod-test       = [4",
                "unknown name 'raod-test'",
                "'road-test', the",
            ),
            (
                "fit      = [18, 27, 35]",
                "fti      = [18, 27, 35]",
                "unknown key 'fti'",
                "'fit', the",
            ),
        ],
    )
    def test_a_fault_is_told(self, changed, old, new, found, expected):
        problems = problems_of(read_labour_table, changed("labour.toml", (old, new)))
        assert len(problems) == 1, problems
        assert found in problems[0].found
        assert expected in problems[0].expected
        assert problems[0].line > 0

    def test_a_shop_with_other_times_gets_other_hours(self, changed):
        from upgrade_planner.kit.labour import labour

        path = changed("labour.toml", ("# dash = [15, 25, 50]", "dash = [115, 125, 150]"))
        own = read_labour_table(path)
        plan = planned("van_original_resistance", "van_upgraded")
        place = next(iter(labour(plan).setting_up))
        text = path.read_text(encoding="utf-8")
        path.write_text(text.replace("dash = [115, 125", f"{place} = [115, 125"), encoding="utf-8")
        named = read_labour_table(path)
        assert own.setting_up.places == {"dash": Minutes(115, 125, 150)}
        difference = labour(plan, named).total.likely - labour(plan).total.likely
        usual = shipped_labour_table().setting_up.at(plan.comparison.before.place_by_id[place])
        assert difference == pytest.approx(125 - usual.likely)
