"""The profiles that README shows, as files; its pump is the smallest vehicle that there is."""

import re

from places import ROOT

README = (ROOT / "README.md").read_text(encoding="utf-8")
PUMP = ("pump_now.toml", "pump_to_be.toml")
"""Two configurations of ten wires: what does not depend on the size of a job is tried on them."""


def write_profiles(folder):
    """Writes the profiles, named as their first lines say, into a folder, and gives that back."""
    for number, text in enumerate(re.findall(r"```toml\n(.*?)```", README, re.DOTALL)):
        named = re.match(r"# (\w+\.toml)", text)
        (folder / (named[1] if named else f"example_{number}.toml")).write_text(text, "utf-8")
    return folder
