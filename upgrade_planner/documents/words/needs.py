"""What a job commonly needs, in words: the sentences of `common_needs.toml`."""

from upgrade_planner.documents.words.written import written_table
from upgrade_planner.kit.common_needs import CommonNeed


def needs_heading() -> str:
    """What stands above them."""
    return str(written_table("common_needs")["heading"])


def need_words(need: CommonNeed) -> str:
    """One of them in a line."""
    return str(written_table("common_needs")["needs"][need.code]).format(
        names=", ".join(need.names)
    )
