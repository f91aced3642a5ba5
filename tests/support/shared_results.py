"""
What is computed once in a run of tests, by the process that asks first: a file for each result.

The file bears the digest of what was asked, pickled; a result is a value, equal to what it was
written from.
"""

import fcntl
import hashlib
import pickle
from functools import wraps

folder = None
"""Where this run keeps results, set by `at_hand`; None outside of tests."""


def shared(function, asked=lambda *arguments: arguments):
    """`function`, computed once in a run; `asked` makes of arguments what decides the result."""

    @wraps(function)
    def at_hand(*arguments):
        if folder is None:
            return function(*arguments)
        digest = hashlib.sha256(pickle.dumps(asked(*arguments))).hexdigest()
        path = folder / f"{function.__name__}-{digest}"
        if not path.exists():
            with path.with_suffix(".lock").open("w") as lock:
                fcntl.flock(lock, fcntl.LOCK_EX)  # who comes second waits, for it is just made
                if not path.exists():
                    result = function(*arguments)
                    _write(path, result)
                    return result
        return pickle.loads(path.read_bytes())

    return at_hand


def _write(path, result):
    """Whole or not at all, for another process may look in between."""
    half = path.with_suffix(".half")
    half.write_bytes(pickle.dumps(result))
    half.replace(path)
