"""
Our own pages as trees, read as XML by the interpreter's own parser.

The PDF engine's parser of HTML forgives everything and is written in Python: it takes thirty times
as long. What it makes of our pages is the same to the byte.
"""

import re
from xml.etree.ElementTree import Element, ParseError, fromstring

VOID = re.compile(r"<(br|col|input|meta)\b([^>]*?)/?>")
"""Elements without an end, which XML wants to see."""

PICTURE = re.compile(r"<svg\b(?![^>]*\sxmlns=)")
PICTURE_IN_XML = '<svg xmlns="http://www.w3.org/2000/svg"'


def page_tree(html: str) -> Element | None:
    """
    The root of a page.

    Args:
        html: A page from our templates.

    Returns:
        The element `html`; None if the page is not well formed, such as one with a control
        character in a customer's text.
    """
    text = PICTURE.sub(PICTURE_IN_XML, VOID.sub(r"<\1\2/>", html))
    try:
        return fromstring(text)
    except ParseError:
        return None
