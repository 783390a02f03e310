"""Adding one entry to the ``history`` of a site file's own text; nothing else is touched.

Where the entry goes is told by the nodes of the file, which know their places. What came of it is read
back and compared: whatever shape the text has, the file holds one entry more and is otherwise the same,
or it is not written.
"""

from __future__ import annotations

from codecs import BOM_UTF8

from barrowful.measures.problems import SiteProblems, WrongUse
from barrowful.sitefile.text.lines import NOTHING, alike, alike_but, line_of, texts_of
from barrowful.sitefile.text.nodes import Document, Listing, Node, Scalar, parse
from barrowful.sitefile.text.page import OddShape, Page


def with_history(document: Document) -> Document:
    """Return a document in which a ``history`` key with nothing after it is an empty list."""
    entries = document.top.entries
    place, value = entries.get("history", (None, None))
    if place and isinstance(value, Scalar) and value.text in NOTHING:
        entries["history"] = (place, Listing([], value.mark))
    return document


def with_entry(data: bytes, before: Document, entry: dict[str, str]) -> tuple[bytes, Document]:
    """Return a site file's bytes with an entry added, and the document they hold.

    ``before`` is the document of the bytes; see :func:`with_history`. Raises :class:`SiteProblems` for
    what is wrong with the entry as YAML, and :class:`WrongUse` where it cannot be added.
    """
    parse(f"history: [{line_of(entry)}]".encode(), before.file)  # refused for itself, not for where it stands
    mark = BOM_UTF8 if data.startswith(BOM_UTF8) else b""
    new = mark + append_history(data.decode("utf-8-sig"), entry, before).encode()
    try:
        after = parse(new, before.file)
    except SiteProblems as problems:
        if {problem.code for problem in problems.problems} <= {"too-large", "too-long"}:
            raise
        raise WrongUse(f"the history of the site file has an unusual shape; {_by_hand(entry)}") from None
    _check_added(before, after, entry)
    return new, after


def append_history(text: str, entry: dict[str, str], document: Document | None = None) -> str:
    """Return a site file's text with an entry added at the end of its history.

    Comments, order and layout stay; line ends are those of the file. The document is that of the text.

    >>> append_history("site: A\\nhistory: []\\n", {"date": "2027-01-02", "place": "beds"})
    'site: A\\nhistory:\\n  - {date: 2027-01-02, place: beds}\\n'
    """
    top = (document or with_history(parse(text.encode(), "the site file"))).top
    page = Page(text, top.mark, "history")
    try:
        return page.with_entry(top, line_of(entry, page.is_json))
    except OddShape:
        raise WrongUse(f"the history of the site file has an unusual shape; {_by_hand(entry)}") from None


def unfit(after: Document, problems: SiteProblems, entry: dict[str, str]) -> WrongUse:
    """Return why an entry cannot stay in a document that has problems with it and had none without."""
    _, history = after.top.entries["history"]
    line = history.items[-1].mark.line if isinstance(history, Listing) else 0
    for problem in problems.problems:
        if problem.line == line:
            return WrongUse(f"the entry cannot be added: {problem.message}")
    return _changing(entry)


def _changing(entry: dict[str, str]) -> WrongUse:
    return WrongUse(f"the entry cannot be added without changing the rest of the file; {_by_hand(entry)}")


def _check_added(before: Document, after: Document, entry: dict[str, str]) -> None:
    """Refuse a document that is not the one before with just this entry more; see :func:`with_history`."""
    nothing = (before.top.mark, Listing([], before.top.mark))
    _, history = before.top.entries.get("history", nothing)
    _, grown = after.top.entries.get("history", nothing)
    if not (alike_but("history", before, after) and _has_just_more(history, grown, entry)):
        raise _changing(entry)


def _has_just_more(history: Node, grown: Node, entry: dict[str, str]) -> bool:
    """Say whether a list is another with just an entry more."""
    if not (isinstance(history, Listing) and isinstance(grown, Listing) and grown.items):
        return False
    before = Listing(grown.items[:-1], grown.mark)
    return alike(history, before) and texts_of(grown.items[-1]) == entry


def _by_hand(entry: dict[str, str]) -> str:
    return f"add it by hand: - {line_of(entry)}"
