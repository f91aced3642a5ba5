"""
Makes the pictures of README anew from what is shipped: `python -m tests.pictures`.

Needs `pdftoppm` (Debian: poppler-utils). Tests tell when a picture is no longer of today.
"""

import subprocess
import sys
import tempfile
from pathlib import Path

HERE = Path(__file__).parent
sys.path[:0] = [str(HERE.parent / "support")]

from readme_pictures import (  # noqa: E402
    PAGE,
    PAGE_PICTURE,
    PAGE_WORDS,
    TERMINAL_PICTURE,
    demo_pdf,
    terminal_svg,
    words_of,
)


def main() -> int:
    """Writes both pictures, and the words of the page that one of them shows."""
    with tempfile.TemporaryDirectory() as place:
        pdf = demo_pdf(Path(place))
        PAGE_WORDS.write_text(words_of(pdf), encoding="utf-8")
        target = PAGE_PICTURE.with_suffix("")
        page = ("-f", str(PAGE), "-l", str(PAGE), "-singlefile")
        subprocess.run(["pdftoppm", *page, "-r", "62", "-gray", "-png", pdf, target], check=True)
    TERMINAL_PICTURE.write_text(terminal_svg(), encoding="utf-8")
    print(f"{PAGE_PICTURE}, {TERMINAL_PICTURE}")
    return 0


if __name__ == "__main__":
    sys.exit(main())
