"""Articles in words, as the parts list and the price list print them."""

from collections.abc import Callable, Mapping

from upgrade_planner.configuration.values.colours import parse_colour
from upgrade_planner.configuration.values.sizes import (
    METRIC,
    SAE,
    other_system_label,
    parse_wire_size,
)
from upgrade_planner.kit.articles import Article, sorts
from upgrade_planner.kit.diameters import ring_hole_mm

_NBSP = "\N{NO-BREAK SPACE}"


def words_of(article: Article) -> str:
    """The article in words, first letter large."""
    writer = _WRITERS.get(article.sort, _plain)
    text = writer(article)
    return text[:1].upper() + text[1:]


def _plain(article: Article) -> str:
    """`words, trait, trait`; quantities keep together with their units."""
    values = [_kept_together(value) for _, value in article.traits if value]
    return ", ".join([sorts()[article.sort].words, *values])


def _kept_together(value: str) -> str:
    return value.replace(" ", _NBSP) if value[:1].isdigit() and len(value) < 12 else value


def _size(article: Article) -> str:
    """`12 SAE (about 3 mm²)`."""
    size = parse_wire_size(article.trait("size"))
    other = other_system_label(size, SAE if size.system == METRIC else METRIC)
    return f"{size.label} ({other})"


def _cable(article: Article) -> str:
    return f"cable {_size(article)}, {_coat(article)}"


def _link(article: Article) -> str:
    return f"fusible link {_size(article)}, {_colour(article)}"


def _resistance_wire(article: Article) -> str:
    ohms = f"{article.trait('ohms')}{_NBSP}Ω in all"
    return f"resistance wire {ohms}, {_size(article)}, {_coat(article)}"


def _coat(article: Article) -> str:
    return f"{article.trait('insulation')}, {_colour(article)}"


def _colour(article: Article) -> str:
    return parse_colour(article.trait("colour")).label


def _ring(article: Article) -> str:
    stud, barrel = article.trait("stud"), article.trait("barrel")
    hole_mm = ring_hole_mm(stud)
    hole = f" (hole {hole_mm:g}{_NBSP}mm)" if hole_mm else ""
    return f"ring terminal, {_kept_together(stud)}{hole}, {barrel}"


def _clamp(article: Article) -> str:
    return f"battery clamp, {article.trait('post')} post, {article.trait('barrel')}"


def _housing(article: Article) -> str:
    return f"connector housing, {article.trait('cavities')} cavities, {article.trait('blade')}"


def _seal(article: Article) -> str:
    return f"cavity seal for {_kept_together(article.trait('size'))}"


def _bore(article: Article) -> str:
    return f"{sorts()[article.sort].words} for {_kept_together(article.trait('bore'))}"


def _part(article: Article) -> str:
    """The name; with the current it is made for, if the name does not tell."""
    rating = article.trait("rating")
    name = article.trait("name")
    is_told = not rating.endswith(" A") or rating in name.replace(_NBSP, " ")
    return name if is_told else f"{name}, {_kept_together(rating)}"


_WRITERS: Mapping[str, Callable[[Article], str]] = {
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
