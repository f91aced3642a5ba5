"""
The order in which workers take tests: in the share of each the dear ones first.

A share is taken up from its front, and who has done with his own takes from the end of another's
(`--dist worksteal`). So what is left at the end is many small tests, and no core waits for one that
lays out a paper or tries generated examples.
"""

DEAR = tuple(
    f"tests/{folder}/"
    for folder in (
        "cli",
        "documents",
        "electrical/network",
        "inspection",
        "planning",
        "properties",
        "quote",
        "stress",
    )
)
"""Where tests of several seconds stand, as `--costs` shows."""


def dear_first(items, workers):
    """The tests in the order of their files, but in each of so many equal shares dear ones first"""
    dear = [item for item in items if item.nodeid.startswith(DEAR)]
    small = [item for item in items if not item.nodeid.startswith(DEAR)]
    return [
        item
        for worker in range(workers)
        for several in (dear, small)
        for item in _share(several, worker, workers)
    ]


def _share(several, worker, workers):
    return several[len(several) * worker // workers : len(several) * (worker + 1) // workers]
