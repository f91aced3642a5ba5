"""What a customer reads: plain words, few pages, no promise that nobody can keep."""

import re

import pypdf
import pytest
from every_case import every_case
from pdf_words import page_texts
from quote_sample import ALTERED, SALOON, VAN, WITH_DANGER, own_rates, quoted

from upgrade_planner.configuration.files.shipped import shipped_folder
from upgrade_planner.documents.quote.quote_words import _FIGURES as TOLD_FIGURES
from upgrade_planner.documents.quote.quote_words import gains_told
from upgrade_planner.documents.words.speech import speech_of
from upgrade_planner.quote.gains import FIGURES, Gain
from upgrade_planner.quote.made import NoOffer

LOCAL = "Local rules for vehicles and the makers' manuals come before anything in this offer."


@pytest.fixture(scope="module")
def folder(tmp_path_factory):
    return tmp_path_factory.mktemp("pages")


def printed(job, target, **changes):
    """What is told of a job, all words of its paper, and those of each page."""
    view = quoted(job, target, **changes).view
    pages = page_texts(target)
    text = " ".join(re.sub("\u2060", "", "\n".join(pages)).split())
    return view, text, pages


@pytest.fixture(scope="module")
def van(folder):
    return printed(VAN, folder / "van.pdf")


@pytest.fixture(scope="module")
def saloon(folder):
    return printed(SALOON, folder / "saloon.pdf")


class TestOneOffer:
    def test_everything_a_customer_needs(self, van):
        view, text, _ = van
        for words in (
            "Lane End Vehicle Electrics",
            "Invented Town",
            view.vehicle,
            view.number,
            "2 March 2026",
            "1 April 2026",
            "What we will do",
            "What you gain",
            "What it costs",
            "You may also choose",
            "What we take for granted",
            "What is not included",
            "I order this work on the basis of this estimate",
            "This is an estimate, not a fixed price",
            LOCAL,
            "No contact points that wear and must be set.",
        ):
            assert words in text, words

    @pytest.mark.parametrize(
        ("job", "paper"), [(ALTERED, "A4"), (ALTERED, "Letter"), (WITH_DANGER, "Letter")]
    )
    def test_at_most_three_pages(self, folder, job, paper):
        target = folder / f"{job[0]}_{paper}.pdf"
        quoted(job, target, paper=paper)
        pages = pypdf.PdfReader(target).pages
        assert len(pages) <= 3
        assert round(float(pages[0].mediabox.width)) == {"A4": 595, "Letter": 612}[paper]

    def test_the_demo_takes_two_pages_in_either_language(self, folder):
        for language in ("en", "de"):
            target = folder / f"demo_{language}.pdf"
            quoted(VAN, target, language=language)
            assert len(pypdf.PdfReader(target).pages) == 2

    @pytest.mark.parametrize("job", [VAN, ALTERED, SALOON])
    def test_a_sum_is_never_parted_from_its_table(self, folder, job):
        target = folder / f"{job[0]}_whole.pdf"
        quoted(job, target)
        pages = page_texts(target)
        with_table = [text for text in pages if "What it costs" in text]
        assert len(with_table) == len(job[1])
        for text in with_table:
            rows = text.partition("What it costs")[2]
            assert "Making safe" in rows
            assert re.search(r"To pay[^£]*£", rows)

    def test_says_on_every_page_that_it_is_invented(self, van):
        view, _, pages = van
        assert "invented" in view.invented
        for text in pages:
            assert view.invented in " ".join(text.split())

    def test_no_such_words_with_the_shops_own_files(self, folder):
        labour = shipped_folder("profiles") / "shop" / "labour.toml"
        prices = shipped_folder("profiles") / "shop"
        target = folder / "own.html"
        made = quoted(VAN, target, rates=own_rates(folder), labour=labour, prices=prices)
        assert made.invented == ""
        _, body, shown = target.read_text("utf-8").partition("<body")
        assert body
        assert "invented" not in shown

    def test_names_only_what_is_invented(self, folder):
        made = quoted(VAN, folder / "half.json", rates=own_rates(folder))
        assert made.invented == (
            "An example, not an offer: working times and prices of parts are invented."
        )

    def test_never_claims_more_than_was_computed(self, van, saloon):
        for _, text, _ in (van, saloon):
            for claim in ("certified", "guarantee", "is safe", "safe to drive"):
                assert claim not in text.lower()
            assert "no certificate" in text

    def test_a_danger_is_on_the_first_page(self, folder):
        target = folder / "danger.pdf"
        view, _, pages = printed(WITH_DANGER, target, paper="Letter")
        first = " ".join(pages[0].split())
        assert view.offers[0].dangers == 4
        assert "Do not order this work before it is solved" in first
        assert "What you gain" not in first

    def test_altered_vehicle_has_diagnosis_and_says_so(self, folder):
        view = quoted(ALTERED, folder / "altered.json").view
        assert view.offers[0].price[0].words == "Finding out what was altered before"
        assert any("Altered before" in words for words in view.offers[0].assumed)

    def test_what_stands_in_the_way_of_html_is_only_text(self, folder):
        changes = {'name = "Lane End Vehicle Electrics"': 'name = "<b>&amp;</b>"'}
        quoted(VAN, folder / "odd.html", rates=own_rates(folder, **changes))
        assert "&lt;b&gt;&amp;amp;&lt;/b&gt;" in (folder / "odd.html").read_text("utf-8")


class TestSideBySide:
    def test_first_page_compares(self, saloon):
        view, _, pages = saloon
        first = " ".join(pages[0].split())
        for offer in view.offers:
            assert f"Offer {offer.letter}" in first
            assert view.money(offer.to_pay) in first
            assert view.money(offer.covering) in first
        assert "1 caution" in first

    def test_each_offer_starts_a_page_and_terms_stand_once(self, saloon):
        view, text, pages = saloon
        for offer in view.offers:
            assert sum(f"Number {offer.number}" in page for page in pages[1:]) == 1
            told = rf"☐ Offer {offer.letter}: [^☐]+, {re.escape(view.money(offer.to_pay))}"
            assert re.search(told, text)
        assert text.count("I order this work") == text.count(LOCAL) == 1

    def test_worse_is_called_worse(self, saloon):
        view, _, _ = saloon
        row = next(row for row in view.compared if row.subject == "Energy stored for each spark")
        assert (row.now, row.cells) == ("79 mJ", ("69 mJ worse", "about as now"))

    def test_what_one_has_and_the_other_has_not(self, saloon):
        view, _, _ = saloon
        row = next(row for row in view.compared if row.subject.startswith("No regulator contacts"))
        assert row.cells == ("no", "yes")

    def test_too_many(self, folder):
        job = (VAN[0], VAN[1] * 6)
        with pytest.raises(NoOffer, match="found 6 AFTER; expected at most 5"):
            quoted(job, folder / "many.pdf")
        assert not (folder / "many.pdf").exists()


class TestWords:
    def test_every_figure_has_words(self):
        assert set(TOLD_FIGURES) == set(FIGURES)

    @every_case(
        ("before", "after", "told"),
        [
            (96.0, 65.0, ("96 °C", "65 °C", "better")),
            (65.0, 96.0, ("65 °C", "96 °C", "worse")),
            (65.0, 65.4, None),
            (None, 65.0, None),
        ],
    )
    def test_hottest_wire(self, before, after, told):
        gain = Gain(subject="hottest wire", before=before, after=after)
        found = [
            (one.now, one.after, one.verdict)
            for one in gains_told([gain], speech_of("en", units="metric"))
        ]
        assert found == ([told] if told else [])

    def test_no_minus_before_zero(self):
        gain = Gain(subject="charging current, idling", before=-0.04, after=5.0)
        assert gains_told([gain], speech_of("en", units="metric"))[0].now == "0.0 A"

    def test_nothing_to_do_is_no_offer(self, folder):
        with pytest.raises(NoOffer, match="found the same wiring"):
            quoted(("van_upgraded", ("van_upgraded",)), folder / "none.pdf")
        assert not (folder / "none.pdf").exists()
