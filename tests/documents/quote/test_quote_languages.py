"""A customer's paper in the language of the shop: whole, with the figures of its country."""

import datetime
import re
from decimal import Decimal
from functools import cache
from html.parser import HTMLParser

import pytest
from as_data import data_of
from every_case import every_case
from quote_sample import (
    ALTERED,
    SALOON,
    SMALL,
    VAN,
    WITH_DANGER,
    own_rates,
    pdf_text,
    quoted,
    shop_in,
)

from upgrade_planner.cli.parameters import LanguageChoice
from upgrade_planner.configuration.files.shipped import shipped_folder
from upgrade_planner.configuration.files.translations import translations
from upgrade_planner.documents.words.figures import LOCALES, figures_of
from upgrade_planner.documents.words.speech import speech_of
from upgrade_planner.documents.words.texts import placeholders, texts_of
from upgrade_planner.errors import ConfigurationError, PlannerError
from upgrade_planner.kit.articles import article
from upgrade_planner.kit.prices.money import Currency
from upgrade_planner.quote.rates import LANGUAGES

WORD = re.compile(r"[A-Za-zÄÖÜäöüß]{2,}")
EURO, POUND, FRANC = (Currency(code=code, decimals=2) for code in ("EUR", "GBP", "CHF"))
SHOP = shipped_folder("profiles") / "shop"
REBUILT = ("six_volt_tractor_original", ("six_volt_tractor_trigger",))


class Shown(HTMLParser):
    """Texts of a page, without styles."""

    def __init__(self, html):
        super().__init__()
        self.texts, self.is_style = [], False
        self.feed(html)

    def handle_starttag(self, tag, attrs):
        self.is_style = tag == "style"

    def handle_endtag(self, tag):
        self.is_style = False

    def handle_data(self, data):
        if not self.is_style:
            self.texts.append(data)


def words(texts):
    return {word for text in texts for word in WORD.findall(re.sub(r"\{[^}]*\}", " ", text))}


@cache
def english_words():
    """Every word that English texts have and German ones have not."""
    german = translations("de", [SHOP])
    says = (texts_of(language).by_key.values() for language in ("en", "de"))
    own, other = ({word.lower() for word in words(texts)} for texts in says)
    own |= {word.lower() for word in words(german)}
    return own - other - {word.lower() for word in words(german.values())}


class TestTexts:
    def test_every_language_has_the_same_keys_and_facts(self):
        english = texts_of("en").by_key
        for language in LOCALES:
            own = texts_of(language).by_key
            assert own.keys() == english.keys()
            for key, text in own.items():
                assert text.strip(), key
                assert placeholders(text) or not re.search(r"[{}]", text), key

    def test_a_missing_or_unknown_key_is_an_error(self, monkeypatch):
        from upgrade_planner.documents.words import texts

        whole = dict(texts_of("de").by_key)
        for spoilt in (
            {key: text for key, text in whole.items() if key != "sign.estimate"},
            {**whole, "sign.elsewhere": "…"},
            {**whole, "sign.shop": "{somebody}"},
        ):
            texts_of.cache_clear()
            real = texts._texts
            monkeypatch.setattr(
                texts, "_texts", lambda one, s=spoilt, r=real: s if one == "de" else r(one)
            )
            with pytest.raises(ValueError, match="sign"):
                texts_of("de")
            monkeypatch.undo()
        texts_of.cache_clear()

    def test_no_such_text(self):
        with pytest.raises(KeyError):
            speech_of("de").say("sign.elsewhere")

    def test_swiss_papers_have_no_sharp_s(self):
        assert "ß" in texts_of("de").say("colours.WH")
        assert texts_of("de-CH").say("colours.WH") == "weiss"

    def test_languages_of_rates_are_those_that_can_be_written(self):
        assert set(LANGUAGES) == set(LOCALES) == set(LanguageChoice)


class TestFigures:
    @every_case(
        ("language", "currency", "written"),
        [
            ("en", POUND, "−£12,345.60"),
            ("en-US", Currency(code="USD", decimals=2), "−$12,345.60"),
            ("en", FRANC, "−CHF\u00a012,345.60"),
            ("de", EURO, "−12.345,60\u00a0€"),
            ("de-AT", EURO, "−€\u00a012.345,60"),
            ("de-CH", FRANC, "−CHF\u00a012’345.60"),
        ],
    )
    def test_money(self, language, currency, written):
        told = figures_of(language).money(Decimal("-12345.60"), currency)
        assert told.replace("'", "’") == written

    def test_a_currency_without_decimals(self):
        yen = Currency(code="JPY", decimals=0)
        assert figures_of("de").money(Decimal(1234), yen) == "1.234\u00a0¥"

    def test_nothing_is_rounded_in_printing(self):
        with pytest.raises(ValueError, match="finer"):
            figures_of("en").money(Decimal("0.005"), POUND)

    def test_numbers_keep_their_digits(self):
        assert figures_of("de").number(Decimal("12.80")) == "12,80"
        assert figures_of("en").number(Decimal("1234.5")) == "1,234.5"

    def test_dates(self):
        day = datetime.date(2026, 3, 2)
        told = [figures_of(one).day(day) for one in ("en-GB", "en-US", "de-AT")]
        assert told == ["2 March 2026", "March 2, 2026", "2. März 2026"]


class TestArticles:
    @every_case(
        ("one", "words"),
        [
            (
                article("cable", size="2.5 mm²", insulation="PVC", colour="RD/WH"),
                "Leitung, 2,5 mm², PVC, rot/weiß",
            ),
            (
                article("ring terminal", stud="M6", barrel="cable 1.5-2.5 mm² (blue)"),
                "Ringkabelschuh, M6, Leitung 1,5-2,5 mm² (blau)",
            ),
            (article("fuse", rating="7.5 A", style="blade"), "Sicherung, 7,5 A, Flachstecker"),
        ],
    )
    def test_in_german(self, one, words):
        assert speech_of("de").article(one).replace("\u00a0", " ") == words


class TestGermanPaper:
    @pytest.mark.parametrize("job", [VAN, SALOON, ALTERED, WITH_DANGER, REBUILT])
    def test_no_english_word_is_left(self, tmp_path, job):
        target = tmp_path / "angebot.html"
        quoted(job, target, language="de")
        html = target.read_text(encoding="utf-8")
        assert '<html lang="de">' in html
        shown = {word.lower() for word in words(Shown(html).texts)}
        assert sorted(shown & english_words()) == []
        assert {"angebot", "bedingungen"} <= shown

    def test_the_same_sums_as_in_english(self, tmp_path):
        english = quoted(VAN, tmp_path / "en.json")
        german = quoted(VAN, tmp_path / "de.json", language="de")
        own, other = (
            data_of((tmp_path / name).read_text(encoding="utf-8"), ("quotation", 3))["offers"][0]
            for name in ("en.json", "de.json")
        )
        for key in ("net", "to_pay", "hours", "to_pay_covering_80_percent"):
            assert own[key] == other[key]
        assert [r["amount"] for r in own["price"]] == [r["amount"] for r in other["price"]]
        assert german.own_view.title == english.view.title

    def test_pdf_reads_back(self, tmp_path):
        shop = shop_in(tmp_path, "EUR", ('language = "en"', 'language = "de-AT"'))
        target = tmp_path / "a.pdf"
        made = quoted(VAN, target, rates=shop / "rates.toml", prices=shop)
        text = " ".join(pdf_text(target).split())
        for offer in made.view.offers:
            assert f"€ {figures_of('de').number(offer.to_pay)}" in text
        assert "2. März 2026" in text
        assert "Seite 1 von" in text
        assert "£" not in text

    def test_own_names_stay_and_own_translations_come(self, tmp_path):
        rates = own_rates(tmp_path, **{'words = "Bench"': 'words = "Werkbank"'})
        (tmp_path / "translations.de.toml").write_text(
            '"Lane End Vehicle Electrics" = "Autoelektrik"\n', encoding="utf-8"
        )
        view = quoted(VAN, tmp_path / "a.json", rates=rates, language="de").view
        assert view.letterhead.name == "Autoelektrik"
        assert view.letterhead.address == ("2 Lane End", "Invented Town")

    @every_case("value", ["3", '""', '"a\\u0007b"', '"a\\u202eb"'])
    def test_a_translation_is_a_text_that_can_be_printed(self, tmp_path, value):
        file = tmp_path / "translations.de.toml"
        file.write_text(f'"Horn" = "Hupe"\n"Coil" = {value}\n', encoding="utf-8")
        with pytest.raises(ConfigurationError, match=r"translations.de.toml:2:1") as caught:
            translations("de", [tmp_path])
        assert "control characters" in str(caught.value)


class TestKind:
    def test_a_fixed_price_binds_and_tells_no_other_sum(self, tmp_path):
        rates = own_rates(tmp_path, **{'kind     = "estimate"': 'kind     = "fixed price"'})
        made = quoted(VAN, tmp_path / "a.html", rates=rates)
        html = (tmp_path / "a.html").read_text(encoding="utf-8")
        assert "This is a fixed price: you pay this sum" in html
        assert "I order this work at the fixed price" in html
        assert "80 of 100" not in html
        assert made.view.money(made.view.offers[0].covering) not in html
        assert made.view.title == "Draft of a quotation"

    def test_a_fixed_price_leaves_out_what_has_no_price(self, tmp_path):
        rates = own_rates(tmp_path, **{'kind     = "estimate"': 'kind     = "fixed price"'})
        made = quoted(SALOON, tmp_path / "a.json", rates=rates)
        told = [offer.kind_words for offer in made.view.offers]
        assert "all but the items without a price" not in told[0]
        assert "all but the items without a price" in told[1]


class TestLogo:
    SVG = '<svg xmlns="http://www.w3.org/2000/svg" width="9" height="9"><rect width="9"/></svg>'

    def rates(self, folder, name):
        return own_rates(folder, **{'logo       = ""': f'logo       = "{name}"'})

    def test_is_inside_the_paper(self, tmp_path):
        (tmp_path / "sign.svg").write_text(self.SVG, encoding="utf-8")
        rates = self.rates(tmp_path, "sign.svg")
        quoted(SMALL, tmp_path / "a.html", rates=rates)
        quoted(SMALL, tmp_path / "a.pdf", rates=rates)
        assert "data:image/svg+xml;base64," in (tmp_path / "a.html").read_text(encoding="utf-8")

    @every_case(
        ("name", "content", "words"),
        [
            ("sign.gif", b"GIF89a", "expected .svg or .png"),
            ("sign.png", b"<svg", "no PNG"),
            ("sign.svg", b"\x89PNG", "no SVG"),
        ],
    )
    def test_anything_else_is_refused(self, tmp_path, name, content, words):
        (tmp_path / name).write_bytes(content)
        with pytest.raises(PlannerError, match=words):
            quoted(VAN, tmp_path / "a.json", rates=self.rates(tmp_path, name))
        assert not (tmp_path / "a.json").exists()
