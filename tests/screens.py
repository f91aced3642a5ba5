"""
Writes the golden screens anew: `python -m tests.screens`; look at what changed before you keep it.

Eight screens in 80 columns, as they go into a pipe.
"""

import sys
import tempfile
from pathlib import Path

HERE = Path(__file__).parent
sys.path[:0] = [str(HERE / "support")]

from in_process import run  # noqa: E402
from screens_shown import FOLDER, SCREENS, shown  # noqa: E402


def main() -> int:
    """Writes every screen."""
    for name in SCREENS:
        with tempfile.TemporaryDirectory() as place:
            text = shown(run, name, Path(place))
        (FOLDER / f"{name}.txt").write_text(text, encoding="utf-8")
        print(f"{name}: {len(text.splitlines())} lines")
    return 0


if __name__ == "__main__":
    sys.exit(main())
