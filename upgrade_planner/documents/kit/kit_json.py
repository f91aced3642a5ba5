"""A kit as data; money is text, so that no reader makes it inexact."""

from collections.abc import Iterator
from decimal import Decimal

from upgrade_planner.documents.kit.bag_pages import place_words, sheet_words
from upgrade_planner.documents.kit.kit_shape import (
    KIT,
    ArticleData,
    BagData,
    CuttingData,
    KitData,
    LineData,
    WhereData,
)
from upgrade_planner.documents.kit.kit_words import (
    alternative_words,
    needed_lines,
    stand_in_words,
    why_words,
)
from upgrade_planner.documents.shared.data_text import data_text, plain_number
from upgrade_planner.documents.words.articles import words_of
from upgrade_planner.documents.words.wording import NBSP
from upgrade_planner.kit.articles import Article, totals
from upgrade_planner.kit.cut_lines import cut_lines
from upgrade_planner.kit.filling_bags import Bag
from upgrade_planner.kit.orders import OrderLine
from upgrade_planner.kit.packed_wires import PackedWire, packed_wires
from upgrade_planner.kit.packing import Kit, bag_key, check_code, is_spare


def kit_json(kit: Kit, issued: str) -> str:
    """The kit as JSON text; equal input gives equal text."""
    data: KitData = {
        "date": issued,
        "check_code": check_code(kit),
        "prices": {"file": "" if kit.is_demo else kit.prices.file, "invented": kit.is_demo},
        "spare_percent": plain_number(kit.spare_percent),
        "jobs": [
            {
                "name": job.name,
                "vehicles": job.times,
                "has_danger": job.has_danger,
                "sheets": [plan.sheet_number for plan in job.plans],
            }
            for job in kit.jobs
        ],
        "lines": [_line(line) for line in kit.order.lines],
        "bags": [_bag(kit, bag, number) for number, bag in enumerate(kit.order.bags, start=1)],
        "cutting": list(_cutting(kit)),
        "gives_back": [
            {**_article(one.article), "quantity": _number(-one.quantity), "parts": list(one.wires)}
            for one in totals(kit.order.given_back)
        ],
        "commonly_needed": list(needed_lines(kit)),
        "currency": kit.order.currency,
        "total": {
            "amount": f"{kit.order.total:f}",
            "currency": kit.order.currency,
            "open_lines": len(kit.order.open_lines),
        },
    }
    return data_text(KIT, data)


def _number(number: Decimal | None) -> int | float | None:
    return None if number is None else plain_number(number)


def _article(article: Article) -> ArticleData:
    return {
        "sort": article.sort,
        "traits": dict(article.traits),
        "unit": article.unit,
        "words": words_of(article).replace(NBSP, " "),
    }


def _line(line: OrderLine) -> LineData:
    listed, sale = line.line, line.sale
    return {
        "articles": [_article(article) for article in line.articles],
        "number": listed.number if listed else None,
        "unit": line.articles[0].unit,
        "needed": _number(line.needed),
        "to_pack": _number(line.to_pack),
        "in_stock": _number(line.in_stock),
        "missing": _number(line.missing),
        "sold_by": sale.line.sold_by if sale else listed.sold_by if listed else None,
        "selling_units": _number(sale.units) if sale else None,
        "left_over": _number(sale.off_cut) if sale else None,
        "amount": None if sale is None or sale.amount is None else f"{sale.amount:f}",
        "is_open": line.is_open,
        "why": why_words(line).replace(NBSP, " "),
        "alternatives": [
            {
                "number": other.line.number,
                "why": alternative_words(other).replace(NBSP, " "),
                "is_tagged": other.is_tagged,
                "needs_other_terminals": other.needs_other_terminals,
            }
            for other in line.alternatives
        ],
        "shelf_place": listed.shelf_place if listed else "",
        "lead_days": listed.lead_days if listed else None,
        "on_shelf": _number(listed.in_stock) if listed else None,
    }


def _bag(kit: Kit, bag: Bag, number: int) -> BagData:
    where: WhereData = {"job": None, "vehicle": None, "stage": None, "place": None}
    if not is_spare(bag):
        job, vehicle, stage, place = bag_key(bag)
        where = {"job": job + 1, "vehicle": vehicle, "stage": stage + 1, "place": place}
    return {
        "number": number,
        **where,
        "place_name": place_words(kit, bag),
        "sheet": sheet_words(kit, bag),
        "wires": [
            {
                "id": one.wire.id,
                "number": one.number,
                "packed_from": _packed_from(kit, bag, one),
                "cut_m": _number(one.material.quantity),
                "ends": [
                    {
                        "terminal": str(end),
                        "articles": [_article(a) for a in articles],
                        "in_bag": where_it_lies or None,
                    }
                    for end, articles, where_it_lies in one.ends
                ],
            }
            for one in packed_wires(kit, bag)
        ],
        "lines": [
            {
                **_article(line.article),
                "number": line.line.number if line.line else None,
                "to_pack": _number(line.to_pack),
                "in_stock": _number(line.in_stock),
                "missing": _number(line.missing),
                "pieces_m": [_number(one) for one in line.pieces],
                "used_for": list(line.wires),
            }
            for line in bag.lines
        ],
    }


def _packed_from(kit: Kit, bag: Bag, packed: PackedWire) -> str:
    (line,) = (one for one in bag.lines if one.article == packed.material.article)
    return stand_in_words(kit, line, "both").replace(NBSP, " ")


def _cutting(kit: Kit) -> Iterator[CuttingData]:
    for cutting in cut_lines(kit):
        yield {
            "articles": [_article(article) for article in cutting.line.articles],
            "number": cutting.line.line.number if cutting.line.line else None,
            "is_proven": cutting.is_proven,
            "reels": [
                {
                    "source": reel.source,
                    "length_m": _number(reel.length),
                    "rest_m": _number(reel.rest),
                    "pieces": [
                        {"length_m": _number(p.length), "wire": p.wire, "bag": p.bag or None}
                        for p in reel.pieces
                    ],
                }
                for reel in cutting.reels
            ],
        }
