"""A public name stands for one thing in the whole package, and a word for one meaning."""

import ast
from collections import defaultdict

from every_case import every_case
from rooms import ORDER, PACKAGE, tree_of

MODULES = {
    ".".join(path.relative_to(PACKAGE).with_suffix("").parts): path
    for path in sorted(PACKAGE.rglob("*.py"))
}

COMMAND_ROOMS = ("jobs", "cli")
"""A command, its call and the function that computes what it prints share a name: they do one
thing, and who knows the command finds the two others."""

NAMED_AFTER_ANOTHER = ("documents", "checks", "cli")
"""Modules here may be named after the module that they put into words, examine or offer as a
command."""

WITHOUT_SORT = tuple(room for room in ORDER if room not in ("kit", "quote", "documents"))
"""Rooms in which *sort* means nothing but putting in order; elsewhere an article has a sort."""


def homes_of(kind):
    homes = defaultdict(list)
    for module, path in MODULES.items():
        for node in tree_of(path).body:
            if isinstance(node, kind) and not node.name.startswith("_"):
                homes[node.name].append(module)
    return homes


def doubled(homes, *, exempt):
    """Names with two homes or more in rooms that are not exempt."""
    several = {
        name: [at for at in modules if at.split(".")[0] not in exempt] or modules
        for name, modules in homes.items()
    }
    return {name: at for name, at in several.items() if len(at) > 1}


def identifiers(tree):
    for node in ast.walk(tree):
        if isinstance(node, ast.Name):
            yield node.id
        elif isinstance(node, ast.arg | ast.keyword) and node.arg:
            yield node.arg
        elif isinstance(node, ast.ClassDef | ast.FunctionDef):
            yield node.name


def test_a_public_class_name_stands_for_one_thing():
    assert doubled(homes_of(ast.ClassDef), exempt=()) == {}


def test_a_public_function_name_stands_for_one_thing():
    homes = homes_of(ast.FunctionDef)
    commands = {name for name, at in homes.items() if any(m.startswith("cli.") for m in at)}
    found = {
        name
        for name in homes
        if doubled({name: homes[name]}, exempt=COMMAND_ROOMS if name in commands else ())
    }
    # A command and its call alone: both rooms are exempt, and nothing else bears the name.
    found -= {n for n in commands if all(m.split(".")[0] in COMMAND_ROOMS for m in homes[n])}
    assert found == set()


def test_a_module_name_stands_for_one_thing():
    homes = defaultdict(list)
    for module in MODULES:
        stem = module.rpartition(".")[2]
        if stem != "__init__":
            homes[stem].append(module)
    found = {
        name
        for name, modules in homes.items()
        if len([m for m in modules if m.split(".")[0] not in NAMED_AFTER_ANOTHER]) > 1
    }
    assert found == set()


@every_case("room", WITHOUT_SORT)
def test_no_identifier_says_sort_for_kind(room):
    found = {
        (module, name)
        for module, path in MODULES.items()
        if module.split(".")[0] == room
        for name in identifiers(tree_of(path))
        if name.lower().strip("_") in ("sort", "sorts")
        or name.lower().endswith(("_sort", "_sorts"))
    }
    assert found == set()


def test_only_a_meter_is_read():
    names = {name for homes in map(homes_of, (ast.ClassDef, ast.FunctionDef)) for name in homes}
    rooms = {module.rpartition(".")[2] for module in MODULES}
    assert "reading" not in rooms
    assert {"read_answers", "read_profile", "read_configuration"} & names == set()
