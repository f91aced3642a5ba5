"""
Spoils files and calls the program: `python -m tests.stress CASES NUMBER`.

Prints what ended as it must not, how often each exit code occurred, and the slowest cases. The same
two numbers give the same cases.
"""

import sys
import tempfile
from pathlib import Path

HERE = Path(__file__).parent
sys.path[:0] = [str(HERE), str(HERE.parent / "support")]

from cases import case, counted_by_file  # noqa: E402
from inputs import inputs  # noqa: E402


def main() -> int:
    """Runs the cases; 1 if one of them ended as it must not."""
    if len(sys.argv) != 3 or not all(text.isdigit() for text in sys.argv[1:]):
        print(__doc__)
        return 2
    count, first = map(int, sys.argv[1:])
    with tempfile.TemporaryDirectory() as place:
        sorts = inputs(_empty(place, "made"))
        ended = []
        for number in range(count):
            one = case(number, first, sorts, Path(place) / "case", quick=False)
            ended.append(one)
            if one.wrong:
                print(f"case {number}: {one.file}: {' '.join(one.command)}: {one.wrong}")
                print("   ", "\n    ".join(one.told.splitlines()[:3]))
    for file, codes in counted_by_file(ended).items():
        print(f"{file:14}", ", ".join(f"exit {code}: {n}" for code, n in sorted(codes.items())))
    for one in sorted(ended, key=lambda one: -one.seconds)[:5]:
        print(f"{one.seconds:5.2f} s  case {one.number}: {' '.join(one.command)}")
    wrong = sum(bool(one.wrong) for one in ended)
    print(f"{count - wrong} passed, {wrong} failed")
    return int(wrong > 0)


def _empty(place: str, name: str) -> Path:
    folder = Path(place) / name
    folder.mkdir()
    return folder


if __name__ == "__main__":
    sys.exit(main())
