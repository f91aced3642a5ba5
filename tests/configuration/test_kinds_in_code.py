"""Kinds are data: code asks for families and capabilities, and rarely names a kind."""

import ast
import re

from rooms import PACKAGE, tree_of

from upgrade_planner.configuration.registry import kinds

VOCABULARY = "configuration/kinds.py"
"""The words of the data, some of which are kinds too."""

EXPORTS = "__init__.py"
"""Calls for scripts, one of which is called like a kind."""

MOST = 85
"""Mentions today, roles and terminals that are called like a kind among them, and the kinds of
the parts that `targets` fits: lower it, never raise it."""


def mentions():
    """Each string in the package that is the id of a kind: module, line, id."""
    quoted = re.compile(rf"""["'](?:{"|".join(map(re.escape, kinds()))})["']""")
    for path in sorted(PACKAGE.rglob("*.py")):
        module = path.relative_to(PACKAGE).as_posix()
        if module in (VOCABULARY, EXPORTS) or module.startswith("electrical/models/"):
            continue
        if not quoted.search(path.read_text(encoding="utf-8")):
            continue  # not worth a syntax tree
        for node in ast.walk(tree_of(path)):
            if isinstance(node, ast.Constant) and node.value in kinds():
                yield module, node.lineno, node.value


def test_code_names_few_kinds():
    found = list(mentions())
    assert len(found) <= MOST, "\n".join(map(str, found))
