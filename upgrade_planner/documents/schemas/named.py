"""The schema of each format by its name."""

import json
from collections.abc import Mapping

from upgrade_planner.configuration.files.faults import one_of
from upgrade_planner.documents.kit.kit_shape import KIT
from upgrade_planner.documents.quote.invoice_data import INVOICE
from upgrade_planner.documents.quote.quote_shape import INTERNAL_QUOTATION, QUOTATION
from upgrade_planner.documents.schemas.from_types import DIALECT, Schema, Schemas
from upgrade_planner.documents.schemas.meanings import with_meaning
from upgrade_planner.documents.schemas.profiles import FILES, profile_schemas
from upgrade_planner.documents.shared.data_text import DataForm
from upgrade_planner.documents.shared.finding_shape import FINDINGS
from upgrade_planner.documents.terminal.list_shapes import (
    CATALOGUE,
    FINDS,
    FITS,
    PAIRS,
    READINGS,
    SYSTEMS,
    UPGRADES,
)
from upgrade_planner.documents.worksheet.plan_shape import COMPARISON, PLAN
from upgrade_planner.errors import PlannerError

FORMATS: Mapping[str, DataForm] = {
    form.name: form
    for form in (
        PLAN,
        COMPARISON,
        FINDINGS,
        READINGS,
        KIT,
        QUOTATION,
        INTERNAL_QUOTATION,
        INVOICE,
        CATALOGUE,
        SYSTEMS,
        PAIRS,
        FINDS,
        FITS,
        UPGRADES,
    )
}

NAMES = (*FILES, *FORMATS)


def schema_text(name: str) -> str:
    """
    A schema as JSON text.

    Raises:
        PlannerError: no format of that name.
    """
    return json.dumps(format_schema(name), indent=1, ensure_ascii=False) + "\n"


def format_schema(name: str, *, is_closed: bool = False) -> Schema:
    """
    The schema of profiles or of an output.

    Args:
        name: One of `NAMES`.
        is_closed: Whether an output has no keys but those described; readers must take others, for
            new ones may come within a version.

    Raises:
        PlannerError: no format of that name.
    """
    if name in FILES:
        made = profile_schemas()
        return _whole(f"upgrade-planner {name}", made.of(FILES[name]), made)
    if name in FORMATS:
        made = Schemas(is_closed=is_closed)
        return _whole(FORMATS[name].written, _envelope(FORMATS[name], made), made)
    raise PlannerError(f"--schema: found '{name}'; expected {one_of(name, NAMES, limit=99)}")


def _whole(title: str, top: Schema, made: Schemas) -> Schema:
    return {"$schema": DIALECT, "title": title, **top, "$defs": made.tables}


def _envelope(form: DataForm, made: Schemas) -> Schema:
    properties: dict[str, Schema] = {
        "format": {"const": form.written},
        "version": {"const": form.version},
        "program": {"type": "string"},
        "data": made.of(form.shape),
    }
    told = {name: with_meaning(field, "", name) for name, field in properties.items()}
    return {"type": "object", "properties": told, "required": list(told)}
