"""Articles of a parts counter in words, as parts list, kit and quotation print them."""

import re
from collections.abc import Callable, Mapping

from upgrade_planner.configuration.end_fittings import EndFitting
from upgrade_planner.configuration.model import Connection
from upgrade_planner.configuration.values.barrels import BARRELS
from upgrade_planner.configuration.values.colours import parse_colour
from upgrade_planner.configuration.values.measures import Quantity
from upgrade_planner.configuration.values.quantities import Dimension
from upgrade_planner.configuration.values.sizes import (
    METRIC,
    SAE,
    other_system_label,
    parse_wire_size,
)
from upgrade_planner.documents.words.quantities import (
    MOST,
    area_for_us,
    quantity_words,
    size_for_us,
)
from upgrade_planner.documents.words.wire_words import size_words
from upgrade_planner.documents.words.wording import NBSP, sentence
from upgrade_planner.kit.articles import Article, sorts
from upgrade_planner.kit.diameters import ring_hole_mm
from upgrade_planner.kit.ends import fitting_article

_FIGURE = re.compile(r"([\d.]+)(?:–([\d.]+))?\s(mm²|mm)")
"""A metric figure in a trait, as the files of shops have it: `6.4 mm`, `1.5–2.5 mm²`."""


_GAUGES = re.compile(r"(\d+)–(\d+) gauge")
_GAUGE = re.compile(r"\d+(?:/0)?\s(?:SAE|AWG)")
"""Gauges in a trait: `16–14 gauge`, `6 SAE`, `1/0 SAE`."""


def words_of(article: Article, units: str = "both") -> str:
    """The article in words, first letter large; `us` leaves no metric figure in it."""
    text = _WRITERS.get(article.sort, _plain)(article, units)
    return sentence(text)


def fitting_words(fitting: EndFitting, connection: Connection, size_system: str, units: str) -> str:
    """What is put on the end of a wire; what holds several names its cables."""
    words = words_of(fitting_article(fitting, connection, size_system), units)
    if len(fitting.wires) == 1:
        return words
    sizes = [wire.size for wire in fitting.wires]
    labels = (size_words(one, units) for one in sizes)
    return f"{words}, for {' and '.join(dict.fromkeys(labels))}"


def for_us(text: str) -> str:
    """
    A trait with its metric figures in US units; coded barrels by their gauges.

    Example:
        >>> for_us("cable 1.5–2.5 mm² (blue)"), for_us("6.4 mm").replace(NBSP, " ")
        ('cable 16–14 gauge (blue)', '0.25 in')
    """
    return _FIGURE.sub(_figure_for_us, text)


def _figure_for_us(found: re.Match[str]) -> str:
    low, high, unit = found.groups()
    if unit == "mm":
        length = Quantity(float(low) / 1000, Dimension.LENGTH)
        return quantity_words(length, ".1f", "us", unit="mm")
    for barrel in BARRELS:
        if high and (float(low), float(high)) == (barrel.area_from_mm2, barrel.area_to_mm2):
            return f"{barrel.gauge_from}–{barrel.gauge_to} gauge"
    return quantity_words(Quantity(float(low), Dimension.AREA), "g", "us")


def barrel_words(article: Article, units: str) -> str:
    """Which cables the barrel of a terminal takes; "" for what has none."""
    return _trait(article, "barrel", units) if "barrel" in dict(article.traits) else ""


def for_metric(text: str) -> str:
    """
    A trait with its gauges in metric units; a size keeps its name beside its area.

    Example:
        >>> for_metric("cable 16–14 gauge (blue)")
        'cable 1.5–2.5 mm² (blue)'
        >>> for_metric("cable 6 SAE, plain barrel").replace(NBSP, " ")
        'cable 6 SAE (about 12 mm²), plain barrel'
    """
    text = _GAUGES.sub(_gauges_for_metric, text)
    return _GAUGE.sub(lambda found: size_words(parse_wire_size(found[0]), "metric"), text)


def _gauges_for_metric(found: re.Match[str]) -> str:
    thin, thick = map(int, found.groups())
    for barrel in BARRELS:
        if (barrel.gauge_from, barrel.gauge_to) == (thin, thick):
            return f"{barrel.area_from_mm2:g}–{barrel.area_to_mm2:g} mm²"
    return found[0]


def trait_words(text: str, units: str) -> str:
    """A trait as price lists have it, in the units wanted."""
    return {"us": for_us, "metric": for_metric}.get(units, str)(text)


def _trait(article: Article, name: str, units: str) -> str:
    return trait_words(article.trait(name), units)


def _plain(article: Article, units: str) -> str:
    """`words, trait, trait`; quantities keep together with their units."""
    values = [_trait(article, name, units) for name, value in article.traits if value]
    return ", ".join([sorts()[article.sort].words, *map(_kept_together, values)])


def _kept_together(value: str) -> str:
    return value.replace(" ", NBSP) if value[:1].isdigit() and len(value) < 12 else value


def _size(article: Article, units: str, bound: str = "") -> str:
    """`12 SAE (about 3 mm²)`."""
    size = parse_wire_size(article.trait("size"))
    if units == "us":
        is_own = size.system != METRIC
        return size.label if is_own else f"{size_for_us(size, bound=bound)} ({area_for_us(size)})"
    if units == "metric":
        return size_words(size, units)
    other = other_system_label(size, SAE if size.system == METRIC else METRIC)
    return f"{size.label} ({other})"


def _cable(article: Article, units: str) -> str:
    return f"cable {_size(article, units)}, {_coat(article)}"


def _link(article: Article, units: str) -> str:
    return f"fusible link {_size(article, units, MOST)}, {_colour(article)}"


def _resistance_wire(article: Article, units: str) -> str:
    ohms = f"{article.trait('ohms')}{NBSP}Ω in all"
    return f"resistance wire {ohms}, {_size(article, units)}, {_coat(article)}"


def _coat(article: Article) -> str:
    return f"{article.trait('insulation')}, {_colour(article)}"


def _colour(article: Article) -> str:
    return parse_colour(article.trait("colour")).label


def _ring(article: Article, units: str) -> str:
    stud, barrel = article.trait("stud"), _trait(article, "barrel", units)
    hole_mm = ring_hole_mm(stud)
    hole = f"{hole_mm:g}{NBSP}mm" if hole_mm else ""
    inside = f" (hole {for_us(hole) if units == 'us' else hole})" if hole else ""
    return f"ring terminal, {_kept_together(stud)}{inside}, {barrel}"


def _clamp(article: Article, units: str) -> str:
    return f"battery clamp, {article.trait('post')} post, {_trait(article, 'barrel', units)}"


def _housing(article: Article, units: str) -> str:
    blade = _trait(article, "blade", units)
    return f"connector housing, {article.trait('cavities')} cavities, {blade}"


def _seal(article: Article, units: str) -> str:
    size = parse_wire_size(article.trait("size"))
    return f"cavity seal for {size_words(size, units)}"


def _bore(article: Article, units: str) -> str:
    return f"{sorts()[article.sort].words} for {_kept_together(_trait(article, 'bore', units))}"


def _part(article: Article, units: str) -> str:
    """The name; with its main rating, if the name does not tell."""
    rating = article.trait("rating")
    name = _trait(article, "name", units)
    is_told = not rating or rating in name.replace(NBSP, " ")
    return name if is_told else f"{name}, {_kept_together(rating)}"


_WRITERS: Mapping[str, Callable[[Article, str], str]] = {
    "cable": _cable,
    "fusible link": _link,
    "resistance wire": _resistance_wire,
    "part": _part,
    "ring terminal": _ring,
    "battery clamp": _clamp,
    "connector housing": _housing,
    "cavity seal": _seal,
    "grommet": _bore,
    "clamp": _bore,
}
