"""Putting a whole ``plan`` into a site file's own text; nothing else is touched.

As with an entry of the history, what came of it is read back and compared: whatever shape the text has,
the file holds just these lines for its plan and is otherwise the same, or it is not written.
"""

from __future__ import annotations

from codecs import BOM_UTF8
from collections.abc import Mapping as Texts
from collections.abc import Sequence

from barrowful.measures.problems import Problem, SiteProblems, WrongUse
from barrowful.sitefile.text.lines import NOTHING, alike_but, line_of, texts_of
from barrowful.sitefile.text.nodes import Document, Listing, Mapping, Scalar, parse
from barrowful.sitefile.text.page import OddShape
from barrowful.sitefile.text.whole import Sheet

#: The keys of a line, as they are written.
KEYS = ("place", "need", "way", "amount", "date")


def with_plan(data: bytes, before: Document, lines: Sequence[Texts[str, str]]) -> tuple[bytes, Document]:
    """Return a site file's bytes with these lines as its plan, and the document they hold.

    ``before`` is the document of the bytes. A file whose plan has just these lines stays as it is; no
    lines leave an empty plan where there was one. Raises :class:`WrongUse` where they cannot be written.

    >>> data = b"site: A\\nplan: []  # none yet\\nplaces: []\\n"
    >>> line = {"place": "beds", "need": "cover", "way": "yes", "date": "2027-04-10"}
    >>> print(with_plan(data, parse(data, "x"), [line])[0].decode())
    site: A
    plan:  # none yet
      - {place: beds, need: cover, way: 'yes', date: 2027-04-10}
    places: []
    <BLANKLINE>
    """
    wanted = [{**{key: line[key] for key in KEYS if key in line}, **line} for line in lines]
    if _holds(before, wanted):
        return data, before
    _check_lines(wanted)
    mark = BOM_UTF8 if data.startswith(BOM_UTF8) else b""
    try:
        new = mark + _replaced(data.decode("utf-8-sig"), before.top, wanted).encode()
        after = parse(new, before.file)
    except OddShape:
        raise _unknown(before) from None
    except SiteProblems as problems:
        if {problem.code for problem in problems.problems} <= {"too-large", "too-long"}:
            raise _unfit(problems.problems) from None
        raise _unknown(before) from None
    if after.problems or not (alike_but("plan", before, after) and _holds(after, wanted)):
        raise _unknown(before)
    return new, after


def _check_lines(lines: Sequence[Texts[str, str]]) -> None:
    """Refuse lines that no file could hold, wherever they stood in it."""
    try:
        problems = parse(f"plan: [{', '.join(map(line_of, lines))}]".encode(), "the plan").problems
    except SiteProblems as refused:
        raise _unfit(refused.problems) from None
    if problems:
        raise _unfit(problems)


def _unfit(problems: Sequence[Problem]) -> WrongUse:
    return WrongUse(f"the plan cannot be written: {problems[0].message}")


def unfit(before: Document, after: Document, problems: Sequence[Problem]) -> WrongUse:
    """Return why a plan cannot stay in a document that has problems with it and had none without."""
    _, plan = after.top.entries.get("plan", (None, None))
    lines = {item.mark.line for item in plan.items} if isinstance(plan, Listing) else set()
    about = [problem for problem in problems if problem.line in lines]
    return _unfit(about) if about else _unknown(before)


def without_plan(document: Document) -> Document:
    """Return a document that is the same but has no plan.

    >>> list(without_plan(parse(b"{site: A, plan: soon}", "x")).top.entries)
    ['site']
    """
    entries = {key: value for key, value in document.top.entries.items() if key != "plan"}
    return Document(document.file, Mapping(document.top.mark, entries), document.problems)


def _holds(document: Document, lines: Sequence[Texts[str, str]]) -> bool:
    """Say whether a document has just these lines for its plan; no plan is one without lines."""
    _, plan = document.top.entries.get("plan", (None, Listing([], document.top.mark)))
    return isinstance(plan, Listing) and list(map(texts_of, plan.items)) == list(lines)


def _replaced(text: str, top: Mapping, lines: Sequence[Texts[str, str]]) -> str:
    """Return a site file's text with these lines as its plan."""
    _, plan = top.entries.get("plan", (None, None))
    if not (plan is None or isinstance(plan, Listing) or (isinstance(plan, Scalar) and plan.text in NOTHING)):
        raise WrongUse('"plan" in the site file is not a list')
    sheet = Sheet(text, top.mark, "plan")
    return sheet.with_items(top, [line_of(line, sheet.is_json) for line in lines])


def _unknown(before: Document) -> WrongUse:
    """Return what to do where a plan stands, or would stand, in a shape that is not known."""
    if "plan" in before.top.entries:
        return WrongUse(
            'the plan of the site file cannot be replaced without changing the rest; take "plan:" and all'
            " that is in it out of the file by hand, and run the command again"
        )
    return WrongUse(
        "a plan cannot be added at the end of the site file without changing the rest; put the line"
        ' "plan: []" in by hand, below any other key, and run the command again'
    )
