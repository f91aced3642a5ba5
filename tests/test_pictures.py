"""The pictures of README are of today; if not: `python -m tests.pictures`."""

from readme_pictures import PAGE_WORDS, TERMINAL_PICTURE, demo_pdf, terminal_svg, words_of


def test_page_of_the_sheet(tmp_path):
    assert words_of(demo_pdf(tmp_path)) == PAGE_WORDS.read_text(encoding="utf-8")


def test_terminal():
    made = terminal_svg()
    assert "http" not in made.replace("http://www.w3.org/2000/svg", "")
    assert made == TERMINAL_PICTURE.read_text(encoding="utf-8")
