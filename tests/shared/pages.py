"""What the tests of pages share: an HTML document read back, strictly, by the standard library."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, field
from html.parser import HTMLParser

#: Elements that have no end, and those whose end may be in their tag in a picture.
VOID = {"meta", "br", "hr", "img", "link", "input", "base", "source", "wbr"}
#: All that a page may hold.
ALLOWED = {
    *("html", "head", "meta", "title", "style", "body", "header", "main", "nav", "section", "h1", "h2", "p", "ul"),
    *("ol", "li", "a", "small", "span", "div", "table", "caption", "thead", "tbody", "tr", "th", "td", "figure"),
    *("figcaption", "svg", "desc", "rect", "text", "polyline", "circle"),
}  # fmt: skip


@dataclass
class Element:
    """An element: its tag, its attributes, the tags around it, and the text inside it."""

    tag: str
    attributes: dict[str, str | None]
    inside: tuple[str, ...]
    words: list[str] = field(default_factory=list)

    @property
    def text(self) -> str:
        """Return all text inside it."""
        return "".join(self.words)


class Reader(HTMLParser):
    """Reads a document; what is not closed, closed twice or declared otherwise is an error."""

    def __init__(self) -> None:
        super().__init__(convert_charrefs=True)
        self.elements: list[Element] = []
        self.open: list[Element] = []
        self.declared: list[str] = []

    def handle_decl(self, decl: str) -> None:
        self.declared.append(decl)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        assert len(dict(attrs)) == len(attrs), f"{tag}: an attribute twice"
        element = Element(tag, dict(attrs), tuple(of.tag for of in self.open))
        self.elements.append(element)
        if tag not in VOID:
            self.open.append(element)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        assert "svg" in [of.tag for of in self.open], f"{tag} closes itself"
        self.handle_starttag(tag, attrs)
        self.open.pop()

    def handle_endtag(self, tag: str) -> None:
        assert self.open, f"{tag} is closed and was not open"
        assert self.open.pop().tag == tag, f"{tag} is closed in the wrong order"

    def handle_data(self, data: str) -> None:
        for element in self.open:
            element.words.append(data)

    def handle_comment(self, data: str) -> None:
        raise AssertionError(f"a comment: {data}")

    def unknown_decl(self, data: str) -> None:
        raise AssertionError(f"a declaration: {data}")

    def handle_pi(self, data: str) -> None:
        raise AssertionError(f"an instruction: {data}")

    def named(self, *tags: str) -> list[Element]:
        """Return the elements of some tags, in order."""
        return [element for element in self.elements if element.tag in tags]

    @property
    def counts(self) -> Counter[str]:
        """Return how often each tag is there."""
        return Counter(element.tag for element in self.elements)


def read_page(document: str) -> Reader:
    """Return a document read back, which is whole."""
    reader = Reader()
    reader.feed(document)
    reader.close()
    assert not reader.open, f"{reader.open[-1].tag} is not closed"
    return reader
