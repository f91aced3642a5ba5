"""Numbers become text in `documents` alone: nothing left of it rounds or prints a unit."""

import ast

from rooms import ORDER, PACKAGE, tree_of

LEFT_OF_DOCUMENTS = ORDER[: ORDER.index("documents")]

ALLOWED = {
    "kit/packing.py": "a fingerprint, which is no text for people",
    "configuration/composing/changes.py": "a rating in the spelling that the profile has",
    "configuration/files/syntax.py": "an error names a character by its code",
    "configuration/files/texts.py": "an error names a byte, and the size of a file",
    "configuration/files/toml_text.py": "the escape of a character in TOML",
    "configuration/structuring/single_values.py": "an error names a character by its code",
    "configuration/tables/csv_files.py": "a cell of a table file",
    "configuration/tables/list_table.py": "a cell of a table file",
    "configuration/tables/workbooks.py": "how long a cell of a table file will be",
    "configuration/values/quantities.py": "the home of units: reads and writes quantities",
    "electrical/network/unsolvable.py": "an error of the calculation quotes what it was given",
    "electrical/protection.py": "an error of the calculation quotes what it was given",
    "inspection/added_parts.py": "a rating in the spelling that a profile has",
    "inspection/found_parts.py": "a rating in the spelling that a profile has",
    "kit/cable.py": "the name of an article",
    "kit/fitted_parts.py": "the name of an article",
    "kit/past_jobs.py": "an error quotes the shop's file",
    "kit/prices/price_lines.py": "an error quotes the shop's file",
    "kit/prices/trait_texts.py": "barrels in the spelling that a price list has, for an error",
    "library/trait_matching.py": "a filter as people type it, to be compared",
}
"""Modules that write numbers as text for a reason that stays, with the reason."""

STILL = {
    "library/traits.py": 2,
    "electrical/allowable_current.py": 6,
    "electrical/drop_limits.py": 2,
    "electrical/sizing.py": 4,
    "inspection/collecting.py": 1,
    "inspection/judging.py": 3,
    "comparison/converting.py": 1,
    "comparison/differences.py": 3,
    "comparison/reasons.py": 3,
    "comparison/reuse.py": 4,
    "planning/altering.py": 2,
    "planning/facts.py": 4,
    "planning/ignition_facts.py": 1,
    "configuration/values/barrels.py": 4,
}
"""How many places each module still has; only ever made smaller."""


def outside_errors(node):
    """All parts of a module but those of `raise`: an error quotes what it was given."""
    yield node
    for child in ast.iter_child_nodes(node):
        if not isinstance(child, ast.Raise):
            yield from outside_errors(child)


def formatted_numbers(tree):
    """Places where a number is given its digits: `f"{x:.1f}"`, `format(x, "g")`, `"%.1f" % x`."""
    for node in outside_errors(tree):
        if isinstance(node, ast.FormattedValue) and node.format_spec is not None:
            yield node.lineno
        is_modulo = isinstance(node, ast.BinOp) and isinstance(node.op, ast.Mod)
        if is_modulo and isinstance(getattr(node.left, "value", None), str):
            yield node.lineno
        if isinstance(node, ast.Call):
            function = node.func
            if isinstance(function, ast.Name) and function.id == "format" and len(node.args) > 1:
                yield node.lineno
            if isinstance(function, ast.Attribute) and function.attr == "format":
                text = function.value
                if isinstance(text, ast.Constant) and ":" in str(text.value):
                    yield node.lineno


MODULES = [
    path.relative_to(PACKAGE).as_posix()
    for room in LEFT_OF_DOCUMENTS
    for path in sorted((PACKAGE / room).rglob("*.py"))
]


def found_in(module):
    """Lines of a module where a number is given its digits."""
    return sorted(formatted_numbers(tree_of(PACKAGE / module)))


def test_modules_left_of_documents_write_no_number_as_text():
    found = {module: found_in(module) for module in MODULES if module not in ALLOWED}
    more = {name: lines for name, lines in found.items() if len(lines) > STILL.get(name, 0)}
    assert more == {}


def test_what_is_allowed_is_needed():
    assert not [name for name in ALLOWED if name not in MODULES or not found_in(name)]
