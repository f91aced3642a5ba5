"""A person who has a schema open reads what each field means."""

from every_case import every_case

from upgrade_planner.documents.schemas.meanings import meanings
from upgrade_planner.documents.schemas.named import NAMES, format_schema

SCHEMAS = {name: format_schema(name) for name in NAMES}


def fields(schema, table=""):
    """Table, field and schema of every field that is no rule about other fields."""
    if isinstance(schema, list):
        for one in schema:
            yield from fields(one, table)
    if not isinstance(schema, dict):
        return
    for name, inner in schema.get("properties", {}).items():
        yield table, name, inner
    for key, inner in schema.items():
        if key != "if":
            yield from fields(inner, table if key in ("properties", "items") else key)


@every_case("name", NAMES)
def test_every_field_says_what_it_means(name):
    silent = {
        (table, field)
        for table, field, inner in fields(SCHEMAS[name])
        if "description" not in inner and (table, field) not in ONLY_NARROWED
    }
    assert silent == set()


ONLY_NARROWED = {("then", "ratings"), ("then", "terminals"), ("terminals", "name")}
"""Told where the component is; here a kind narrows them."""


def test_no_meaning_is_written_for_what_is_not_there():
    there = {(table, name) for schema in SCHEMAS.values() for table, name, _ in fields(schema)}
    names = {name for _, name in there}
    written = {(table, name) for table, told in meanings().items() for name in told}
    assert {
        (table, name)
        for table, name in written
        if (name not in names if table == "any" else (table, name) not in there)
    } == set()


def test_a_meaning_is_a_sentence():
    words = [text for told in meanings().values() for text in told.values()]
    assert all(text[0].isupper() and text.endswith(".") for text in words)
