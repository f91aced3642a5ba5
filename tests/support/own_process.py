"""The command line in a process of its own, as a person starts it."""

import os
import subprocess
import sys


def run(*arguments, cwd, **environment):
    """One call of the program: exit code, output, errors."""
    variables = {**os.environ, "COLUMNS": "120", "SOURCE_DATE_EPOCH": "1772323200", **environment}
    return subprocess.run(
        [sys.executable, "-m", "upgrade_planner", *map(str, arguments)],
        cwd=cwd,
        env=variables,
        capture_output=True,
        text=True,
        check=False,
        timeout=120,
    )
