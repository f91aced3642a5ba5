"""Offers: printed lines add up to the cent, nothing inexact gets in, no margin gets out."""

import datetime
from collections import Counter
from decimal import Decimal
from functools import cache
from itertools import product

import attrs
import pytest
from attrs import evolve
from drawn_once import of_each
from every_case import every_case
from generating import pairs
from hypothesis import given, settings
from hypothesis import strategies as st
from pair_facts import planned, sized

from upgrade_planner.checks.findings import Finding, Remedy, Severity
from upgrade_planner.comparison.results import Policy
from upgrade_planner.documents.quote.line_words import remark_words
from upgrade_planner.documents.words.speech import speech_of
from upgrade_planner.errors import PlannerError
from upgrade_planner.kit.articles import article
from upgrade_planner.kit.job_file import AddedWork, JobFile
from upgrade_planner.kit.labour_table import OldVehicle, shipped_labour_table
from upgrade_planner.kit.materials import consumption
from upgrade_planner.kit.orders import Job, Stage, order
from upgrade_planner.kit.prices import money
from upgrade_planner.kit.prices.price_list import PriceList
from upgrade_planner.kit.prices.shop_files import load_prices, shipped_shop
from upgrade_planner.library.pairs import ready_pairs
from upgrade_planner.planning import plan as planning
from upgrade_planner.planning.operations import FitPart, RemovePart
from upgrade_planner.planning.plan import plan_upgrade
from upgrade_planner.planning.stages import staged_job
from upgrade_planner.quote.gains import gains
from upgrade_planner.quote.lines import Charge, overlap, work_lines
from upgrade_planner.quote.offer import CustomerOffer, Shop, for_customer, offer
from upgrade_planner.quote.priced import PricedLine, Section, Supply, totals_of
from upgrade_planner.quote.rates import shipped_rates
from upgrade_planner.quote.remarks import Bearing, Said, remarks
from upgrade_planner.quote.supplies import supplies_of

DAY = datetime.date(2026, 3, 2)
RATES = shipped_rates()
CENT = RATES.currency.step
ROUNDINGS = tuple(
    product(["half up", "half even"], ["per line", "per total"], ["0.01", "0.05", "1"])
)
CABLE = article("cable", size="12 SAE", insulation="GPT", colour="RD")


@cache
def prices():
    return load_prices(shipped_shop())


def supply(what=CABLE, quantity="10", cost="1.37"):
    price = None if cost is None else Decimal(cost)
    return Supply(article=what, quantity=Decimal(quantity), cost=price)


SUPPLIES = (
    supply(),
    supply(article("ring terminal", stud="M6", barrel="red"), "50", "0.0437"),
    supply(article("part", kind="coil", rating="", name="Coil"), "1", "118.00"),
    supply(article("clamp", bore="10 mm"), "3", None),
)


@pytest.fixture(scope="module")
def found_plan():
    return planned("van_as_found", "van_upgraded")


@pytest.fixture(scope="module")
def made(found_plan):
    return offer([found_plan], SUPPLIES, Shop(), given=DAY)


def assert_adds_up(one):
    """What a customer with a pencil would check."""
    for totals, lines in (
        (one.expected, one.lines),
        (one.covering, None),
    ):
        assert totals.net == sum(amount for _, amount in totals.sections)
        assert totals.to_pay == totals.net + sum(t.amount for t in totals.taxes) + totals.rounding
        assert sum(tax.base for tax in totals.taxes) == totals.net
        if lines is not None:
            assert totals.net == sum(line.amount for line in lines)
    for line in one.lines:
        assert abs(line.amount - line.quantity * line.unit_price) <= CENT / 2
        assert line.amount == line.amount.quantize(CENT)
    assert one.hours == sum(line.quantity for line in one.lines if line.unit == "h")
    assert one.covering.to_pay >= one.expected.to_pay
    assert one.covering_hours >= one.hours


def everything_in(value, path="offer"):
    """Every value inside, however deep, with the way to it."""
    yield path, value
    if attrs.has(type(value)):
        for attribute in attrs.fields(type(value)):
            yield from everything_in(getattr(value, attribute.name), f"{path}.{attribute.name}")
    elif isinstance(value, tuple | list):
        for index, item in enumerate(value):
            yield from everything_in(item, f"{path}[{index}]")
    elif isinstance(value, dict):
        for key, item in value.items():
            yield from everything_in(item, f"{path}[{key}]")


class TestSums:
    @of_each(15, pairs, policies=True)
    def test_generated_plans(self, pair, policy):
        mode, tax, totals = ROUNDINGS[int(pair[1].digest[:8], 16) % len(ROUNDINGS)]
        rates = evolve(
            RATES,
            rounding=evolve(RATES.rounding, mode=mode, totals=Decimal(totals)),
            tax=evolve(RATES.tax, rounding=tax),
        )
        plan = plan_upgrade(*pair, policy)
        one = offer([plan], SUPPLIES, Shop(rates=rates), given=DAY)
        assert_adds_up(one)
        assert one.expected.to_pay % Decimal(totals) == 0

    @every_case("pair", ready_pairs()[::6])
    def test_ready_pairs(self, pair):
        plan = planned(pair.before, pair.after)
        one = offer([plan], SUPPLIES, Shop(), given=DAY, old_parts_returned=True)
        assert_adds_up(one)
        assert one.hours > 0

    def test_hours_of_one_kind_are_rounded_once(self, found_plan, made):
        table = shipped_labour_table()
        work = work_lines([found_plan], table)
        minutes, billed = Counter(), Counter()
        for line in work:
            minutes[line.work] += line.expected_min
        for line in made.lines:
            if line.unit == "h" and line.charge is not Charge.OLD_VEHICLE:
                billed[line.work] += line.quantity
        assert set(billed) == set(minutes)
        for kind, hours in billed.items():
            assert abs(float(hours) - minutes[kind] / 60) <= 0.05 + 1e-9

    def test_nothing_to_do_costs_nothing(self):
        van = sized("van_upgraded")
        one = offer([plan_upgrade(van, van)], (), Shop(), given=DAY)
        assert one.lines == ()
        assert (one.expected.to_pay, one.covering.to_pay, one.hours) == (0, 0, 0)

    @given(
        st.lists(st.integers(1, 50_000), min_size=1, max_size=40),
        st.integers(0, 2500),
        st.sampled_from(["half up", "half even"]),
    )
    def test_tax_per_line_and_per_total_differ_by_half_a_cent_a_line(self, cents, percent, mode):
        standard = evolve(RATES.tax.classes["standard"], percent=Decimal(percent) / 100)
        base = evolve(RATES, rounding=evolve(RATES.rounding, mode=mode))
        lines = [
            PricedLine(
                section=Section.PARTS,
                charge=Charge.ARTICLE,
                quantity=Decimal(1),
                unit="each",
                unit_price=c * CENT,
                amount=c * CENT,
                tax_class="standard",
            )
            for c in cents
        ]
        sums = {}
        for where in ("per line", "per total"):
            tax = evolve(base.tax, rounding=where, classes={"standard": standard})
            (sums[where],) = totals_of(lines, evolve(base, tax=tax)).taxes
        # Half a cent a line; half even may round the total the other way, half a cent more.
        half_cents = len(lines) + (mode == "half even")
        difference = abs(sums["per line"].amount - sums["per total"].amount)
        assert difference <= half_cents * CENT / 2


class TestExactness:
    def test_no_float_in_an_offer(self, made):
        billing = evolve(made, overlap=None, bounds_h=())  # estimates; no money follows from them
        for view in (billing, for_customer(made)):
            floats = [path for path, value in everything_in(view) if isinstance(value, float)]
            assert floats == []

    @every_case("wrong", [1.5, 2, "3", Decimal("NaN"), Decimal("Infinity")])
    def test_no_line_takes_anything_else(self, wrong):
        with pytest.raises(TypeError, match="not an exact Decimal"):
            Supply(article=article("tie"), quantity=wrong, cost=None)
        with pytest.raises(TypeError, match="not an exact Decimal"):
            Supply(article=article("tie"), quantity=Decimal(1), cost=wrong)


class TestCustomerView:
    def test_no_field_for_cost_or_margin(self, made):
        own, shown = dict(everything_in(made)), dict(everything_in(for_customer(made)))
        secret = ("cost", "margin", "rates")
        assert any(word in path for path in own for word in secret)
        assert not any(word in path for path in shown for word in secret)
        names = {a.name for a in attrs.fields(CustomerOffer)}
        assert not names & {"rates", "cost", "margin", "reserve"}

    def test_what_the_shop_pays_is_nowhere(self, made):
        costs = {line.cost for line in made.lines if line.cost is not None}
        costs |= {one.cost for one in SUPPLIES if one.cost is not None}
        shown = {v for _, v in everything_in(for_customer(made)) if isinstance(v, Decimal)}
        assert costs
        assert not costs & shown

    def test_another_margin_at_the_same_price_gives_the_same_paper(self, found_plan):
        """The same prices from cheaper parts: the customer cannot tell."""
        papers = []
        for percent, cost in ((25, "100"), (0, "125")):
            rates = evolve(RATES, margin=evolve(RATES.margin, percent=Decimal(percent)))
            bought = [supply(article("part", kind="coil", rating="", name="Coil"), "1", cost)]
            papers.append(for_customer(offer([found_plan], bought, Shop(rates=rates), given=DAY)))
        assert papers[0] == papers[1]

    def test_open_lines_are_counted_and_in_no_sum(self, found_plan, made):
        without = offer([found_plan], SUPPLIES[:3], Shop(), given=DAY)
        assert made.expected == without.expected
        assert len(for_customer(made).open_lines) == 1
        assert for_customer(without).open_lines == ()

    def test_margin_is_inside_the_price(self, made):
        line = next(line for line in made.lines if line.article == CABLE)
        assert (line.unit_price, line.amount, line.cost) == (
            Decimal("1.9180"),
            Decimal("19.18"),
            Decimal("13.70"),
        )
        assert made.margin == sum(
            line.amount - line.cost for line in made.lines if line.cost is not None
        )


class TestLabour:
    def test_setting_up_counts_once_a_place(self, found_plan):
        table = shipped_labour_table()
        lines = work_lines([found_plan], table)
        places = [line.place for line in lines if line.charge is Charge.SETTING_UP]
        assert len(places) == len(set(places)) > 1
        saved = overlap([found_plan], table, lines)
        assert saved.saved_min > 0
        assert saved.together_min == pytest.approx(sum(line.expected_min for line in lines))

    def test_diagnosis_is_sold_where_somebody_has_been_at_the_vehicle(self, found_plan):
        table = shipped_labour_table()
        sound = planned("van_original_resistance", "van_upgraded")
        for plan, wanted in ((found_plan, 1), (sound, 0)):
            kinds = [line.work for line in work_lines([plan], table)]
            assert kinds.count("diagnosis") == wanted

    def test_allowance_for_an_old_vehicle_is_open_and_nowhere_else(self, found_plan, made):
        table = shipped_labour_table()
        new = evolve(table, old_vehicle=OldVehicle(factor=(1.0, 1.0, 1.0)))
        sound = offer([found_plan], SUPPLIES, Shop(labour=new), given=DAY)
        allowance = [line for line in made.lines if line.charge is Charge.OLD_VEHICLE]
        assert allowance
        own = [line for line in made.lines if line.unit == "h" and line not in allowance]
        assert own == [line for line in sound.lines if line.unit == "h"]
        assert made.covering_hours > sound.covering_hours

    def test_the_shop_adds_bench_work(self, found_plan, made):
        extra = AddedWork(kind="bench", words="dynamo overhaul", hours=Decimal(2))
        more = offer([found_plan], SUPPLIES, Shop(), given=DAY, job=JobFile(work=(extra,)))
        assert more.hours - made.hours == 2
        (line,) = (line for line in more.lines if line.work == "bench")
        assert line.amount == 2 * RATES.work.bench.rate


class TestCores:
    def deposits(self, plan, *, returned):
        one = offer([plan], (), Shop(), given=DAY, old_parts_returned=returned)
        return [line.amount for line in one.lines if line.section is Section.CORES]

    def test_a_deposit_goes_out_and_comes_back_for_the_old_part(self, found_plan):
        kinds = [op.part.kind for op in found_plan.operations if isinstance(op, FitPart)]
        old = [op.part.kind for op in found_plan.operations if isinstance(op, RemovePart)]
        assert "alternator_internal_regulator" in kinds
        assert "alternator_external_regulator" in old
        assert self.deposits(found_plan, returned=False) == [Decimal("40.00")]
        assert self.deposits(found_plan, returned=True) == [Decimal("40.00"), Decimal("-40.00")]


class TestRemarks:
    def test_a_wiring_that_could_not_be_computed_is_not_vouched_for(self, found_plan, monkeypatch):
        unsolved = Finding(
            code="PWR-NOT-SOLVED",
            severity=Severity.DANGER,
            subjects=(),
            facts={"why": "two batteries against each other"},
            remedy=Remedy("look-for-source-not-joined"),
            source="",
        )
        monkeypatch.setattr(planning, "check", lambda _: (unsolved,))
        comparison = found_plan.comparison
        told = remarks([planning.plan_for.__wrapped__(comparison)])
        assert [(one.title, one.note) for one in told if one.said is Said.NOT_COMPUTED] == [
            (side.title, unsolved.facts["why"]) for side in (comparison.before, comparison.after)
        ]

    def test_as_found_capped_and_never_certified(self, found_plan, made):
        said = {bearing: [r for r in made.remarks if r.bearing is bearing] for bearing in Bearing}
        note = found_plan.comparison.before.as_found_note
        assert any(
            note in remark_words(remark, found_plan, speech_of("en"))
            for remark in said[Bearing.ASSUMED]
        )
        capped = [r for r in said[Bearing.EXCLUDED] if r.said is Said.CAPPED]
        assert len(capped) == 1
        assert capped[0].where
        assert said[Bearing.NOT_VOUCHED]

    def test_every_finding_that_stays_is_excluded(self):
        plan = planned("van_upgraded", "van_original_resistance")
        one = offer([plan], (), Shop(), given=DAY)
        left = [f for f in plan.findings if f.severity != "note"]
        assert left
        for finding in left:
            assert any(finding == remark.finding for remark in one.remarks)

    def test_validity_runs_from_the_given_date(self, made):
        assert made.valid_until == datetime.date(2026, 4, 1)


class TestOptions:
    def test_policies_stages_and_targets_side_by_side(self):
        before, after = sized("van_original_resistance"), sized("van_upgraded")
        trigger = sized("van_trigger_module")
        ways = [(plan_upgrade(before, after, policy),) for policy in Policy]
        ways.append(staged_job([before, trigger, after]).plans)
        ways.append((plan_upgrade(before, trigger),))
        found = [offer(plans, (), Shop(), given=DAY) for plans in ways]
        assert found[2].hours > found[0].hours  # two visits set up twice, test twice
        for one in found:
            assert one.expected.to_pay <= one.covering.to_pay
        assert gains(before, after)
        assert gains(before, after) != gains(before, trigger) != ()

    def test_no_gain_where_nothing_changes(self):
        van = sized("van_upgraded")
        assert gains(van, van) == ()


class TestFromAPriceList:
    def test_cost_is_that_of_all_that_the_order_packs(self, found_plan):
        """The job pays for its part of a pack, the order for whole packs."""
        materials = tuple(m for found in consumption(found_plan).values() for m in found)
        job = Job(name="van", stages=(Stage(materials=materials),))
        ordered = order([job], prices())
        one = offer([found_plan], supplies_of(found_plan, prices()), Shop(), given=DAY)
        assert_adds_up(one)
        used = sum(
            RATES.rounded(line.line.price / line.line.contains * line.to_pack)
            for line in ordered.lines
            if not line.is_open
        )
        assert abs(one.cost - used) < CENT
        assert 0 < one.cost < ordered.total
        assert len(one.open_lines) == len(ordered.open_lines)

    @given(st.randoms(use_true_random=False), st.sampled_from(["per line", "per total"]))
    @settings(max_examples=15)
    def test_bill_by_tax_class_is_the_sum_over_articles(self, found_plan, chance, where):
        """Whatever class each line of the price list has, to the cent."""
        names = {"": "standard", "standard": "standard", "none": "none", "reduced": "reduced"}
        reduced = evolve(RATES.tax.classes["standard"], words="reduced tax", percent=Decimal("5.5"))
        classes = {**RATES.tax.classes, "reduced": reduced}
        rates = evolve(RATES, tax=evolve(RATES.tax, classes=classes, rounding=where))
        lines = tuple(evolve(line, tax_class=chance.choice([*names])) for line in prices().lines)
        bought = supplies_of(found_plan, PriceList("own.csv", "GBP", lines, prices().columns))
        one = offer([found_plan], bought, Shop(rates=rates), given=DAY)
        assert_adds_up(one)
        sums = Counter({rates.tax.labour: 0})
        for line in one.lines:
            if line.section is not Section.PARTS:
                sums[line.tax_class] += line.amount
        finer = CENT / 100
        for one_bought in bought:
            if one_bought.cost is not None:
                margin = rates.margin.on(one_bought.article.sort)
                price = margin / 100 * one_bought.cost + one_bought.cost
                price = money.rounded(price, finer, rates.rounding.mode)
                sums[names[one_bought.tax_class]] += rates.rounded(price * one_bought.quantity)
        printed = {tax.words: tax.base for tax in for_customer(one).expected.taxes}
        assert printed == {classes[name].words: total for name, total in sums.items()}

    def test_the_class_of_an_article_is_the_one_of_its_line(self, found_plan):
        lines = tuple(evolve(line, tax_class=line.sort) for line in prices().lines)
        bought = supplies_of(found_plan, PriceList("own.csv", "GBP", lines, prices().columns))
        priced = [one for one in bought if one.cost is not None]
        assert len({one.article.sort for one in priced}) > 3
        assert all(one.tax_class == one.article.sort for one in priced)

    def test_a_tax_class_that_the_rates_have_not_is_told(self, found_plan):
        bought = [evolve(supply(), tax_class="standrad")]
        with pytest.raises(PlannerError, match=r"'standrad'.*'standard', the nearest"):
            offer([found_plan], bought, Shop(), given=DAY)
