"""Pages: whatever a site is called and holds, the document is sound, and says it as text alone."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

from draws import draws
from hypothesis import HealthCheck, given
from hypothesis import strategies as st
from pages import ALLOWED, Reader, read_page

from barrowful.tables.cells import letters
from barrowful.tables.columns import HOURS, day, number, text
from barrowful.tables.layout import Layout
from barrowful.tables.page import Groups, Page, Section
from barrowful.tables.report import Look, Note, Report
from barrowful.tables.writers.chart import Chart, Point, Span
from barrowful.tables.writers.html import write_html

#: What would be something else than text where it is not escaped.
HOSTILE = [
    "<script>alert(1)</script>",
    "</td></tr></table><h1>",
    '" onmouseover="alert(1)',
    "' x='",
    "&lt;b&gt;",
    "&amp",
    "&#60;b",
    "</style><style>*{display:none}",
    "</title>",
    "<!--",
    "-->",
    "]]>",
    "<![CDATA[",
    "<?x?>",
    "<svg/onload=x>",
    "\x00",
    "\x1b[31m",
    "\ud800",
    "\ufdd0",
    "\U0001ffff",
    "\u2028",
    "2027-03-01",
    "木",
    "1, 2",
]
words = (
    st.lists(st.one_of(st.sampled_from(HOSTILE), st.text(max_size=6)), min_size=1, max_size=4)
    .map("".join)
    .filter(bool)
)
#: What a page has more or less of by the room that its words take.
BY_ROOM = {"span", "text", "polyline"}
Row = tuple[str, str, date, float]
LAYOUT: Layout[Row] = Layout(
    name="rows",
    title="Rows",
    identifies=("name",),
    noted=("note",),
    columns=(
        text("name", "name", "Name.", lambda row: row[0]),
        text("note", "note", "Note.", lambda row: row[1]),
        day("day", "day", "Day.", lambda row: row[2]),
        number("hours", "hours", HOURS, "Hours.", lambda row: row[3]),
    ),
)
DAYS = (date(2027, 3, 1), date(2027, 4, 1))


def page_of(names: list[str]) -> Page:
    """Return a page with each of some words wherever a page has words."""
    rows = [(name, f"{name}!", DAYS[number % 2], float(number)) for number, name in enumerate(names)]
    first = names[0]
    table = replace(LAYOUT.table(rows), title=first)
    report = Report(
        "report",
        first,
        "EUR",
        [table],
        sentences=[f"{name}; say" for name in names],
        cautions=[Note("key", 5, f"{name} care", f"{name} source", (name,)) for name in names],
        warnings=[f"{name} warned" for name in names],
        answer=tuple(f"- {name} answers" for name in names),
        charts=(
            Chart(title=first, about=first, days=first, values=first,
                  points=tuple(Point(label=name, day=DAYS[0], value=1.0) for name in names)),
            Chart(title=first, about=first, days=first,
                  spans=tuple(Span(label=name, first=DAYS[0], last=DAYS[1], latest=DAYS[1]) for name in names)),
        ),
    )  # fmt: skip
    groups = Groups("day", dict.fromkeys(DAYS, first), "hours")
    return Page(first, tuple(names), (Section(title=first, report=report, groups={"rows": groups}),))


def written(page: Page) -> Reader:
    """Return a page as it is read back."""
    return read_page("".join(write_html(page, Look(all_cautions=True))))


@draws(60, suppress_health_check=[HealthCheck.too_slow])
@given(names=st.lists(words, min_size=1, max_size=3, unique_by=letters))
def test_words_stay_words(names: list[str]) -> None:
    """Names of any letters are text and nothing else: the elements are those of a page with plain names."""
    found = written(page_of(names))
    plain = written(page_of([f"n{number}" for number in range(len(names))]))
    assert set(found.counts) <= ALLOWED
    fixed = found.counts.keys() - BY_ROOM
    assert {tag: found.counts[tag] for tag in fixed} == {tag: plain.counts[tag] for tag in fixed}
    assert not [
        key for of in found.elements for key in of.attributes if key in {"src", "style"} or key[:2] == "on"
    ]
    sentences, items = ({of.text for of in found.named(tag)} for tag in ("p", "li"))
    heads = {of.text for of in found.named("th")}
    for seen in map(letters, names):
        assert {seen, f"{seen}; say"} <= sentences
        assert {f"{seen}!", f"{seen} answers", f"{seen} warned"} <= items
        assert seen in heads
        assert any(item.startswith(f"{seen} care ") and f"Source: {seen} source" in item for item in items)
    titles = [of.text for of in found.named("title") if "svg" not in of.inside]
    assert titles == [letters(names[0])]
    assert found.named("h1")[0].text == titles[0] == found.named("caption")[0].text


def test_a_table_becomes_a_list_to_tick() -> None:
    """Rows stand under the title of their group, each with a box, ticked where something is done."""
    table = LAYOUT.table([("a", "", DAYS[0], 1.0), ("b", "", DAYS[0], 2.0), ("c", "", DAYS[1], 0.5)])
    table.rows[1]["hours"] = None
    groups = Groups("day", {DAYS[0]: "March", DAYS[1]: "April"}, "hours")
    report = Report("report", "Field", "EUR", [table])
    found = written(Page("Field", (), (Section(title="Jobs", report=report, groups={"rows": groups}),)))
    assert [of.text for of in found.named("th") if of.attributes["scope"] == "rowgroup"] == ["March", "April"]
    boxes = [of for of in found.named("span") if of.attributes["class"] == "box"]
    assert [of.attributes["aria-label"] for of in boxes] == ["done", "to do", "done"]
    assert [of.text for of in boxes] == ["x", "", "x"]
    plain = written(Page("Field", (), (Section(title="Jobs", report=report),)))
    assert not [of for of in plain.named("span", "th") if of.attributes.get("scope") == "rowgroup"]
