"""The command line in a process of its own, as a person starts it."""

import json
import os
import subprocess
import sys

from in_process import ENVIRONMENT


def run(*arguments, cwd, **environment):
    """One call of the program: exit code, output, errors."""
    return _started("-m", "upgrade_planner", *map(str, arguments), cwd=cwd, **environment)


ONE_BY_ONE = """
import json, sys
from upgrade_planner import cli
for arguments in json.loads(sys.argv.pop()):
    sys.argv[1:] = arguments
    try:
        cli.main()
    except SystemExit as ended:
        if ended.code:
            raise
"""


def run_all(calls, *, cwd, **environment):
    """Several calls in one process, until one fails: what they share is read and planned once."""
    return _started("-c", ONE_BY_ONE, json.dumps(calls), cwd=cwd, **environment)


def _started(*words, cwd, **environment):
    return subprocess.run(
        [sys.executable, *words],
        cwd=cwd,
        env={**os.environ, **ENVIRONMENT, **environment},
        capture_output=True,
        text=True,
        check=False,
        timeout=120,
    )
