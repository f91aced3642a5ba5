"""
What is computed once in a run of tests, by whichever process: a file for each result.

The file bears the digest of what was asked, pickled; a result is a value, equal to what it was
written from.
"""

import hashlib
import os
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
        if path.exists():
            return pickle.loads(path.read_bytes())
        result = function(*arguments)
        _write(path, result)
        return result

    return at_hand


def _write(path, result):
    """Whole or not at all, for another process may look in between."""
    half = path.with_suffix(f".{os.getpid()}")
    half.write_bytes(pickle.dumps(result))
    half.replace(path)
