"""The command line in a process of its own, as a person starts it."""

import os
import subprocess
import sys

from in_process import ENVIRONMENT


def run(*arguments, cwd, **environment):
    """One call of the program: exit code, output, errors."""
    variables = {**os.environ, **ENVIRONMENT, **environment}
    return subprocess.run(
        [sys.executable, "-m", "upgrade_planner", *map(str, arguments)],
        cwd=cwd,
        env=variables,
        capture_output=True,
        text=True,
        check=False,
        timeout=120,
    )
