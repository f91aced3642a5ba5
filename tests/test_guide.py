"""Every module and data file that the contributor guide names is there."""

import re

from every_case import every_case
from places import ROOT

PACKAGE = ROOT / "upgrade_planner"
ROOMS = sorted(path.name for path in PACKAGE.iterdir() if path.is_dir())
NAMED = re.compile(rf"`((?:{'|'.join(ROOMS)})/[\w./]+)`")
GUIDE = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")


def exists(name):
    """A folder, a file, a module, or a name in a module."""
    path = PACKAGE / name.rstrip("/.")
    if path.exists() or path.with_suffix(".py").exists():
        return True
    module = path.with_suffix(".py")
    return module.exists() and re.search(
        rf"^(?:class |def )?{re.escape(path.suffix[1:])}\b", module.read_text("utf-8"), re.MULTILINE
    )


@every_case("name", sorted({n for n in NAMED.findall(GUIDE) if "NAME" not in n}))
def test_what_the_guide_names_is_there(name):
    assert exists(name), name


HOUSE = GUIDE.partition("## The house on one page")[2].partition("\n## ")[0]
ROW = re.compile(r"^\| (… )?`([\w/]+)/` \| (.*) \|$", re.MULTILINE)


def told_of_rooms():
    """Each name that the table of rooms tells, with the folder of its room."""
    whole = ""
    for inside, room, told in ROW.findall(HOUSE):
        whole = whole if inside else room
        folder = f"{whole}/{room}" if inside else room
        yield from ((folder, name) for name in re.findall(r"`(\w+)/?`", told))


@every_case(("folder", "name"), sorted(set(told_of_rooms())))
def test_what_a_room_holds_stands_there(folder, name):
    """A module, a folder, or something that one of its modules defines."""
    inside = [path for path in (PACKAGE / folder).rglob("*") if "__pycache__" not in path.parts]
    if name in {path.stem for path in inside}:
        return
    defined = re.compile(rf"^ *(?:def |class )?{name}\b *[:(=]", re.MULTILINE)
    assert any(defined.search(p.read_text("utf-8")) for p in inside if p.suffix == ".py"), name
