"""The recipes of the contributor guide, as their tests follow them."""

import re

from places import ROOT


def blocks_of_recipe(title):
    """The blocks of code of one recipe, in their order."""
    guide = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    recipe = guide.partition(f"### {title}\n")[2].partition("\n##")[0]
    return re.findall(r"```\w+\n(.*?)```", recipe, re.DOTALL)
