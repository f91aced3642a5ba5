"""
Drawing that says the same in fewer words.

The PDF engine sets each line of text anew to draw it, asks the library of faces for each letter,
asks each piece of a file thrice what it is, and for each field to fill looks for a label through
the whole form. The file is the same to the byte.
"""

from collections.abc import Callable, Iterator
from functools import cache
from struct import Struct
from typing import Any

PARAGRAPHS = frozenset("\n\r\u2029")
LETTER = Struct("=Iiii4x")
"""Of Pango's glyphs: number, width, offset across and up."""
NO_LETTERS = 0x0FFFFFFF
"""From this number on, what Pango puts in place of letters: nothing, or that there is none."""


@cache
def draw_quickly() -> None:
    """Puts the quick ways in place of the engine's, once; the engine has been imported before."""
    import pydyf
    from weasyprint.draw import text
    from weasyprint.pdf import anchors

    pydyf._to_bytes = _bytes_of(pydyf._to_bytes)
    pydyf.PDF.page_references = _references(pydyf.PDF.page_references.fget)
    text.draw_first_line = _text(text.draw_first_line)
    anchors._get_human_name = _name_of_field(anchors._get_human_name)


def _bytes_of(way: Callable[[Any], bytes]) -> Callable[[Any], bytes]:
    """Most of what a file is made of is bytes, text or whole numbers."""

    def to_bytes(item: Any) -> bytes:
        kind = type(item)
        if kind is bytes:
            return item  # type: ignore[no-any-return]
        if kind is str:
            return item.encode("ascii")  # type: ignore[no-any-return]
        return b"%d" % item if kind is int else way(item)

    return to_bytes


def _references(way: Callable[[Any], tuple[bytes, ...]]) -> Any:
    """References to the pages, made anew only when there is another page."""

    def references(pdf: Any) -> tuple[bytes, ...]:
        pages = len(pdf.pages["Kids"])
        kept: tuple[int, tuple[bytes, ...]] = vars(pdf).get("kept_references", (0, ()))
        if kept[0] != pages:
            kept = pdf.kept_references = pages, way(pdf)
        return kept[1]

    return property(references)


def _name_of_field(way: Callable[..., str]) -> Callable[..., str]:
    """What a field is for stands in its title: ours have no label to be looked for in the form."""

    def name(form: Any, element: Any, input_name: str) -> str:
        return element.get("title") or way(form, element, input_name)

    return name


def _text(way: Callable[..., Any]) -> Callable[..., Any]:
    """
    A line whose letters have all been drawn before is put together from them.

    Pages say where faces are kept: `kept_faces` of their fonts (see `own_page`).
    """

    def draw(stream: Any, box: Any, text_overflow: str, block_ellipsis: str, matrix: Any) -> Any:
        asked = (stream, box, text_overflow, block_ellipsis, matrix)
        faces = getattr(box.style.font_config, "kept_faces", None)
        is_plain = text_overflow != "ellipsis" and block_ellipsis == "none"
        if faces is None or not is_plain or PARAGRAPHS & set(box.pango_layout.text):
            return way(*asked)
        if not box.text.strip():
            return []
        runs = [_Run(run, stream, faces) for run in _runs(box.pango_layout)]
        if not all(run.is_known for run in runs):
            emojis = way(*asked)
            for run in runs:
                run.learn()
            return emojis
        stream.set_text_matrix(*matrix.values)
        _show(stream, runs)
        return []

    return draw


def _runs(layout: Any) -> Iterator[Any]:
    """Parts of the line that are of one face."""
    from weasyprint.text.ffi import ffi

    line, _ = layout.get_first_line()
    run = line.runs[0]
    while run != ffi.NULL:
        yield run.data
        run = run.next


def _show(stream: Any, runs: list["_Run"]) -> None:
    shown, current = "", None
    for run in runs:
        if run.face is not current:
            if shown:
                stream.show_text(shown)
            shown, current = "", run.face
            stream.set_font_size(run.face.hash, run.size)
        shown += run.shown()
    stream.show_text(shown)


class _Run:
    """
    Letters of one face.

    Args:
        item: The engine's item of glyphs.
        stream: Where it is drawn.
        faces: Faces of the document with their sizes, and how their letters are written.
    """

    def __init__(self, item: Any, stream: Any, faces: dict[Any, Any]) -> None:
        from weasyprint.text.ffi import ffi

        pango_font, string = item.item.analysis.font, item.glyphs
        if pango_font not in faces:
            faces[pango_font] = (*stream.add_font(pango_font), {})
        self.face, self.size, self._written = faces[pango_font]
        size = string.num_glyphs * LETTER.size
        self._letters = list(LETTER.iter_unpack(ffi.buffer(string.glyphs, size)))

    @property
    def is_known(self) -> bool:
        return all(letter in self._written for letter in self._letters)

    def shown(self) -> str:
        """The letters as the file has them."""
        text = "<" + "".join(map(self._written.__getitem__, self._letters))
        return text[:-1] if text.endswith("<") else f"{text}>"

    def learn(self) -> None:
        """How letters are written that the engine has drawn; none that are pictures or raised."""
        from weasyprint.text.ffi import FROM_UNITS

        face = self.face
        if face.bitmap or face.svg or face.png or face.colr:
            return
        for number, width, across, up in self._letters:
            if number < NO_LETTERS and not up:
                offset = across / self.size
                gap = face.widths[number] + offset - width * 1000 * FROM_UNITS / self.size
                before = f">{-offset}<" if offset else ""
                after = f">{int(gap)}<" if gap else ""
                self._written[number, width, across, up] = f"{before}{number:04x}{after}"
