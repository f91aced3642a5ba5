"""
Runs the application and turns every way it can end into an exit code and at most a few lines.

0 done; 1 done, but a danger stands; 2 bad input, or an output that cannot be written; 3 a mistake
in the program; 130 and 143 broken off by the person or by the system.
"""

import atexit
import contextlib
import errno
import gc
import logging
import os
import signal
import sys
import threading
import warnings
from collections.abc import Callable
from typing import Any, NoReturn

import typer

from upgrade_planner.cli.parameters import BAD_INPUT, BROKEN_OFF, DONE, ENDED, PROGRAM_MISTAKE
from upgrade_planner.cli.saying import say
from upgrade_planner.errors import PlannerError, printable

DEBUG = "UPGRADE_PLANNER_DEBUG"
"""Set to 1, an unforeseen error shows where in the program it happened."""

KEPT_OBJECTS = 500_000
"""New objects after which Python looks for those that nothing refers to. Source: our assumption;
nearly all that a command makes lasts until it ends, and looking each 700 costs it a tenth."""

_FULL_OR_GONE = (errno.ENOSPC, errno.EDQUOT, errno.EIO, errno.EBADF)


def run(application: Callable[..., Any]) -> NoReturn:
    """Runs the application with the arguments of the process, and ends the process."""
    gc.set_threshold(KEPT_OBJECTS)
    atexit.register(gc.freeze)  # nobody looks through what ends with the process
    _prepare()
    sys.exit(_code(application))


def _prepare() -> None:
    """Streams that print what they can, libraries that keep silent, an end that tidies up."""
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="replace")  # a screen without arrows or ohm signs
    if not os.environ.get(DEBUG):
        warnings.simplefilter("ignore")
    logging.getLogger().addHandler(logging.NullHandler())
    if threading.current_thread() is threading.main_thread():
        signal.signal(signal.SIGTERM, _terminated)


def _terminated(*_: object) -> NoReturn:
    sys.exit(ENDED)  # not at once: what is half written is taken away first


def _code(application: Callable[..., Any]) -> int:
    try:
        code = application(standalone_mode=False)
        sys.stdout.flush()
        return code if isinstance(code, int) else DONE
    except PlannerError as error:
        from upgrade_planner.jobs.explain import explained

        return _told(explained(error), BAD_INPUT)
    except typer.Abort:
        return _told("broken off; nothing written", BROKEN_OFF)
    except SystemExit as ended:
        if isinstance(ended.__context__, BrokenPipeError):  # the reader of a pipe has gone
            return _silenced(DONE)
        return ended.code if isinstance(ended.code, int) else DONE
    except BrokenPipeError:
        return _silenced(DONE)
    except Exception as error:
        return _failed(error)


def _failed(error: Exception) -> int:
    if hasattr(error, "show") and hasattr(error, "exit_code"):  # a usage error of typer
        error.show()
        return BAD_INPUT
    if isinstance(error, OSError) and error.filename is None and error.errno in _FULL_OR_GONE:
        _silenced(BAD_INPUT)
        return _told(f"standard output: not written ({error.strerror})", BAD_INPUT)
    if os.environ.get(DEBUG):
        raise error
    words = printable(f"{type(error).__name__}: {error}")[:200]
    return _told(
        f"This is a mistake in the program, not in your files ({words}). Please report it to those "
        f"who gave you the program, with the command and its files; {DEBUG}=1 shows where it is.",
        PROGRAM_MISTAKE,
    )


def _told(text: str, code: int) -> int:
    with contextlib.suppress(OSError):  # where nobody can be told, the code still says it
        say(text, err=True)
    return code


def _silenced(code: int) -> int:
    """Lets what is still to be printed go nowhere, so that the end of the process is quiet."""
    with contextlib.suppress(OSError, ValueError):
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
    return code
