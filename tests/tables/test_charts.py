"""Charts: whatever the points and their names, both pictures hold them all, inside their frames."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from dataclasses import replace
from datetime import date, timedelta
from decimal import Decimal
from fractions import Fraction
from itertools import combinations, pairwise, permutations
from xml.etree import ElementTree

import pytest
from draws import draws
from hypothesis import HealthCheck, example, given
from hypothesis import strategies as st

from barrowful.tables.pictures import frontier_chart
from barrowful.tables.writers.axes import TICK_GAP, Axis, day_axis, value_axis
from barrowful.tables.writers.chart import Bar, Chart, Limit, Point, Reach, Span, stairs
from barrowful.tables.writers.elements import COLUMN, DEPTH, EDGE, WIDTH
from barrowful.tables.writers.plot import plot
from barrowful.tables.writers.svg import svg

SVG = "{http://www.w3.org/2000/svg}"
#: What a site file can hold, and what it cannot.
STRANGE = [
    "a",
    "Z",
    " ",
    "<",
    "&",
    ">",
    '"',
    "'",
    "]]>",
    "木",
    "é",
    "e\u0301",
    "\x00",
    "\x1b[31m",
    "\n",
    "\u2028",
]
names = st.one_of(
    st.lists(st.sampled_from(STRANGE), max_size=30).map("".join), st.text(max_size=40), st.just("yard, chips")
)
START = date(2027, 3, 1)
near_days = st.integers(0, 1500).map(lambda days: START + timedelta(days=days))
days = st.one_of(st.just(START), near_days, near_days, st.dates())
cash = st.decimals(0, 10**15, places=2)
values = st.one_of(
    st.just(Decimal(640)),
    cash,
    st.floats(allow_nan=False, allow_infinity=False),
    st.floats(-1e-300, 1e-300),
    st.floats(999_999.99, 1_000_000),
)
few_points = st.lists(
    st.builds(Point, label=names, day=days, value=values, hollow=st.booleans()), max_size=40
)
amounts = st.floats(0, 1e12)
lines = st.lists(
    st.tuples(days, st.tuples(amounts, amounts, amounts)), max_size=12, unique_by=lambda at: at[0]
).map(lambda spots: tuple(Reach(day, *sorted(ends)) for day, ends in sorted(spots)))
bars = st.lists(
    st.builds(lambda day, value: Bar(day, day + timedelta(weeks=1), value), near_days, amounts), max_size=12
).map(tuple)
charts = st.builds(
    Chart,
    line=lines,
    line_means=names,
    band_means=st.sampled_from(["", "from low to high"]),
    bars=bars,
    limit=st.one_of(st.none(), st.builds(Limit, amounts, names)),
    title=names,
    about=names,
    days=st.just("everything ready on"),
    values=names,
    unit=st.sampled_from(["EUR", "JPY", "m3", ""]),
    decimals=st.integers(0, 3),
    points=few_points.map(tuple),
    staircase=st.booleans(),
    hollow_means=names,
)
#: The clock of a busy machine fails no test.
STEADY = draws(100, suppress_health_check=[HealthCheck.too_slow])
Count = Callable[[str], int]
FRONTIER = [
    ("buy all now", START, Decimal(2210)),
    ("compost of a year", date(2027, 10, 15), Decimal("1423.5")),
    ("grow half of it", date(2028, 3, 1), Decimal(1390)),
    ("heap, then grow", date(2029, 3, 1), Decimal(640)),
]


def drawn(chart: Chart) -> ElementTree.Element:
    """Return the picture as an XML parser reads it."""
    return ElementTree.fromstring(svg(chart).encode("utf-8"))


def frame_of(picture: ElementTree.Element) -> tuple[float, float, float, float]:
    """Return the left, top, right and bottom of what is between the axes."""
    lines = [spots(line) for line in picture.iter(f"{SVG}polyline")]
    ((left, top), (_, bottom), (right, _)) = next(
        line for line in lines if len(line) == 3 and line[0][0] == line[1][0]
    )
    return left, top, right, bottom


def spots(line: ElementTree.Element) -> list[tuple[float, float]]:
    """Return the spots a line goes through."""
    return [(float(x), float(y)) for x, y in (pair.split(",") for pair in line.attrib["points"].split(" "))]


def box_of(text: ElementTree.Element, count: Count) -> tuple[float, float, float, float]:
    """Return what a line of text covers: left, top, right, bottom."""
    size = float(text.attrib["font-size"])
    wide = count(text.text or "") * size * COLUMN
    before = {"start": 0.0, "middle": wide / 2, "end": wide}[text.attrib["text-anchor"]]
    left, foot = float(text.attrib["x"]) - before, float(text.attrib["y"]) + size * DEPTH
    return left, foot - size, left + wide, foot


def meet(box: Sequence[float], other: Sequence[float]) -> bool:
    """Say whether two boxes have more in common than what rounding to a tenth leaves."""
    return all(max(box[i], other[i]) + 0.2 < min(box[i + 2], other[i + 2]) for i in (0, 1))


@pytest.fixture(scope="module")
def width_of() -> Count:
    """Give the function that counts columns as the tool does, whatever the letters."""
    from barrowful.tables.writers.widths import columns_of

    return columns_of


@STEADY
@given(chart=charts)
def test_a_picture_is_sound_xml_and_holds_every_point(chart: Chart) -> None:
    """Any XML parser reads it; it has a title, a description and a mark for each point, and the same bytes."""
    text, picture = svg(chart), drawn(chart)
    assert text == svg(replace(chart))
    assert picture.attrib["role"] == "img"
    assert [child.tag for child in picture[:2]] == [f"{SVG}title", f"{SVG}desc"]
    marks = list(picture.iter(f"{SVG}circle"))
    assert len(marks) == len(chart.points)
    for point, mark in zip(chart.points, marks, strict=True):
        assert (mark.attrib["fill"] == "#fff") == point.hollow
        told = mark.findtext(f"{SVG}title") or ""
        assert point.day.isoformat() in told
        assert chart.told(point.value) in told
    allowed = {"svg", "title", "desc", "rect", "text", "polyline", "circle"}
    assert {part.tag.removeprefix(SVG) for part in picture.iter()} <= allowed
    assert not re.search(r"(href|src|style|url|on\w+)=", re.sub(r">[^<]*<", "><", text))


@STEADY
@given(chart=charts)
def test_points_lie_inside_the_frame_of_a_picture(chart: Chart) -> None:
    """No mark and no corner of the staircase leaves what lies between the axes."""
    picture = drawn(chart)
    if not chart.all_days:
        assert "nothing to show" in [text.text for text in picture.iter(f"{SVG}text")]
        return
    left, top, right, bottom = frame_of(picture)
    places = [(float(mark.attrib["cx"]), float(mark.attrib["cy"])) for mark in picture.iter(f"{SVG}circle")]
    places += [
        spot
        for line in picture.iter(f"{SVG}polyline")
        if line.attrib["stroke"] not in {"#ddd", "#222"} or line.attrib["stroke-width"] == "2"
        for spot in spots(line)
    ]
    blocks = [block.attrib for block in picture.iter(f"{SVG}rect") if block.attrib["fill"] == "#666"]
    assert len(blocks) == sum(bar.value > 0 for bar in chart.bars)
    places += [(float(block["x"]), float(block["y"])) for block in blocks]
    assert all(left <= x <= right and top <= y <= bottom for x, y in places)


@STEADY
@given(chart=charts)
def test_no_texts_of_a_picture_overlap(chart: Chart, width_of: Count) -> None:
    """Title, ticks, labels, numbers and lines under the frame keep apart and stay on the picture."""
    picture = drawn(chart)
    boxes = [box_of(text, width_of) for text in picture.iter(f"{SVG}text") if (text.text or "").strip()]
    assert [pair for pair in combinations(boxes, 2) if meet(*pair)] == []
    height = float(picture.attrib["height"])
    for left, top, right, foot in boxes:
        assert left >= 0
        assert right <= WIDTH - EDGE + 0.1
        assert 0 <= top < foot <= height


@STEADY
@given(chart=charts)
def test_labels_keep_clear_of_marks(chart: Chart, width_of: Count) -> None:
    """No mark is hidden by a label, its own or another's."""
    picture = drawn(chart)
    marks = [(float(mark.attrib["cx"]), float(mark.attrib["cy"])) for mark in picture.iter(f"{SVG}circle")]
    boxes = [box_of(text, width_of) for text in picture.iter(f"{SVG}text") if (text.text or "").strip()]
    assert not [box for box in boxes for x, y in marks if meet(box, (x - 4, y - 4, x + 4, y + 4))]


@STEADY
@given(chart=charts)
def test_a_label_is_beside_its_point_or_in_the_list(chart: Chart) -> None:
    """No label is lost: it stands in the picture, or under it with day and value."""
    words = "".join(text.text or "" for text in drawn(chart).iter(f"{SVG}text")).replace(" ", "")
    for mark in drawn(chart).iter(f"{SVG}circle"):
        label = (mark.findtext(f"{SVG}title") or "").rpartition(": ")[0].replace(" ", "").strip()
        assert label in words


@pytest.mark.parametrize("has_braille", [True, False])
@STEADY
@given(chart=charts, width=st.integers(60, 130))
def test_a_plot_keeps_its_width_and_holds_every_point(
    has_braille: bool, chart: Chart, width: int, width_of: Count
) -> None:
    """No line is too long; the key has a line for each point, with its day and value."""
    text = plot(chart, width, has_braille)
    lines = text.removesuffix("\n").split("\n")
    assert all(width_of(line) <= width for line in lines)
    assert text == plot(replace(chart), width, has_braille)
    assert not re.search(r"[\x00-\x09\x0b-\x1f\x7f-\x9f\u2028\u2029\ud800-\udfff]", text)
    bare = text.replace(" ", "").replace("\n", "")
    for point in chart.points:
        assert point.day.isoformat() in text
        assert chart.told(point.value).replace(" ", "") in bare
    if not chart.all_days:
        assert lines[-1] == "nothing to show"


@pytest.mark.parametrize(("has_braille", "axis"), [(True, "[│┤]"), (False, "[|+]")])
@STEADY
@given(points=few_points, width=st.sampled_from([60, 80, 100]), staircase=st.booleans())
def test_letters_stand_at_their_points(
    has_braille: bool, axis: str, points: list[Point], width: int, staircase: bool
) -> None:
    """No letter stands twice, small ones are hollow, and those well apart stand by day and by value."""
    points = points[:26]
    chart = replace(frontier_chart("Field", "EUR", []), points=tuple(points), staircase=staircase)
    rows = re.findall(rf"(?m)^ *[\d,.e+-]* {axis}(.*)$", plot(chart, width, has_braille))
    if not points:
        assert rows == []
        return
    seen = {
        letter: (row.index(letter), place)
        for place, row in enumerate(rows[:16])
        for letter in re.findall("[A-Za-z]", row)
    }
    assert sum(len(re.findall("[A-Za-z]", row)) for row in rows[:16]) == len(seen)
    wanted = [chr(ord("a" if point.hollow else "A") + number) for number, point in enumerate(points)]
    assert seen.keys() <= {*wanted}
    assert wanted[0] in seen
    span = max(point.day for point in points) - min(point.day for point in points)
    worths = [Fraction(point.value) for point in points]
    height = max(worths) - min(worths)
    for (first, a), (second, b) in permutations(zip(points, wanted, strict=True), 2):
        if {a, b} <= seen.keys() and (second.day - first.day) * 6 > span:
            assert seen[a][0] < seen[b][0]
        more = Fraction(first.value) - Fraction(second.value)
        if {a, b} <= seen.keys() and more * 2 > height > max(map(abs, worths)) / 1000:
            assert seen[a][1] < seen[b][1]


def test_plain_letters_are_ascii() -> None:
    """Where there is no Unicode, nothing but the grower's own words needs it."""
    assert plot(frontier_chart("Field", "EUR", FRONTIER), 80, False).isascii()


@STEADY
@given(values=st.lists(values, min_size=1, max_size=20), intervals=st.integers(2, 8))
@example(values=[5e-324], intervals=3)
def test_ticks_of_values(values: list[Decimal | float], intervals: int) -> None:
    """The axis holds all values between its ends, its ticks are round, even, few, and told apart."""
    axis = value_axis(values, intervals)
    assert all(0 <= axis.share(value) <= 1 for value in values)
    assert 2 <= len(axis.ticks) <= intervals + 3
    steps = {Fraction(b.at) - Fraction(a.at) for a, b in pairwise(axis.ticks)}
    assert len(steps) == 1
    step = (axis.ticks[1].at - axis.ticks[0].at).normalize()
    assert step.as_tuple().digits in {(1,), (2,), (5,)}
    labels = [tick.label for tick in axis.ticks]
    assert len(set(labels)) == len(labels)
    assert all(len(label) <= 17 for label in labels)
    for tick in axis.ticks:
        read = float(tick.label.replace(",", ""))
        assert read == pytest.approx(float(tick.at), rel=1e-7, abs=0)


@STEADY
@given(days=st.lists(days, min_size=1, max_size=20), columns=st.integers(30, 120))
def test_ticks_of_days(days: list[date], columns: int) -> None:
    """The axis holds all days, its labels are dates, and there are two or more wherever there are two days."""
    axis = day_axis(days, columns)
    assert all(0 < axis.share(day.toordinal()) < 1 for day in days)
    assert len(axis.ticks) >= min(2, len(set(days)))
    for tick in axis.ticks:
        assert 0 <= axis.share(tick.at) <= 1
        first = date.fromisoformat(tick.label + "-01-01"[: 10 - len(tick.label)])
        assert first == date.fromordinal(int(tick.at))
    assert_room(axis, columns)


def assert_room(axis: Axis, columns: int) -> None:
    """Fail where the labels of two ticks come closer than a gap."""
    for tick, after in pairwise(axis.ticks):
        apart = (axis.share(after.at) - axis.share(tick.at)) * columns
        assert apart >= (len(tick.label) + len(after.label)) / 2 + TICK_GAP - 1e-6


@STEADY
@given(points=few_points)
def test_a_staircase_is_the_least_that_can_be_had(points: list[Point]) -> None:
    """On each day the staircase is at the lowest value of any solid point up to then."""
    corners = stairs(points)
    assert all(a.day < b.day and a.value > b.value for a, b in pairwise(corners))
    for point in points:
        had = [other.value for other in points if not other.hollow and other.day <= point.day]
        steps = [corner.value for corner in corners if corner.day <= point.day]
        assert steps[-1:] == ([min(had)] if had else [])


def test_a_frontier() -> None:
    """The chart of a frontier has its site, its unit, a sentence instead of a picture, and a falling staircase."""
    chart = frontier_chart("Old orchard", "JPY", FRONTIER)
    assert chart.value_heading == "least cash, JPY"
    assert (
        chart.about
        == "Least cash falls from 2,210 JPY with all ready on 2027-03-01 to 640 JPY on 2029-03-01."
    )
    assert [corner.value for corner in stairs(chart.points)] == [2210, 1424, 1390, 640]
    assert (
        frontier_chart("Old orchard", "EUR", []).about == "There is no day by which everything can be ready."
    )
    alone = frontier_chart("Old orchard", "EUR", FRONTIER[:1]).about
    assert alone == "Least cash is 2,210.00 EUR with all ready on 2027-03-01, and falls no further."


def test_a_frontier_in_a_terminal() -> None:
    """A frontier of four points reads as it should, at eighty columns."""
    assert plot(frontier_chart("Old orchard", "EUR", FRONTIER), 80, True) == SHOWN


rows = st.builds(
    lambda label, day, ends: Span(label=label, first=day, last=day + ends[0], latest=day + ends[0] + ends[1]),
    names,
    near_days,
    st.tuples(*[st.integers(0, 700).map(lambda days: timedelta(days=days))] * 2),
)
span_charts = st.builds(
    Chart, title=names, about=names, days=names, spans=st.lists(rows, min_size=1, max_size=12).map(tuple),
    span_means=names, latest_means=names,
)  # fmt: skip


@STEADY
@given(chart=span_charts, width=st.integers(60, 130), has_braille=st.booleans())
def test_each_span_has_a_row(chart: Chart, width: int, has_braille: bool, width_of: Count) -> None:
    """A span is a block in its order of days, no texts overlap, and a terminal shows it with its label."""
    picture = drawn(chart)
    blocks = [block for block in picture.iter(f"{SVG}rect") if block.attrib["fill"] == "#666"]
    assert len(blocks) == len(chart.spans)
    tops = [float(block.attrib["y"]) for block in blocks]
    assert all(above < below for above, below in pairwise(tops))
    for (span, block), (other, its) in permutations(zip(chart.spans, blocks, strict=True), 2):
        assert span.first > other.first or float(block.attrib["x"]) <= float(its.attrib["x"])
    boxes = [box_of(text, width_of) for text in picture.iter(f"{SVG}text") if (text.text or "").strip()]
    assert [pair for pair in combinations(boxes, 2) if meet(*pair)] == []
    lines = plot(chart, width, has_braille).split("\n")
    assert all(width_of(line) <= width for line in lines)
    bars = [line for line in lines if re.search("[⠁-⣿]" if has_braille else "#", line)]
    assert len(bars) >= len(chart.spans)


def test_a_value_without_a_place_is_refused() -> None:
    """What is no number, or endless, is refused when the chart is made."""
    chart = frontier_chart("Field", "EUR", FRONTIER)
    for value in (float("nan"), float("inf"), Decimal("NaN"), Decimal("1e400")):
        with pytest.raises(ValueError, match="no finite number"):
            replace(chart, points=(Point(label="", day=START, value=value),))


SHOWN = """\
Old orchard: least cash against the day everything is ready

least cash, EUR
2,500 ┤
      │  A⣀⣀⣀⣀⣀⣀⣀⣀⣀⣀⣀⣀⣀⣀⣀⣀⣀⣀⣀⡀
      │                      ⡇
2,000 ┤                      ⡇
      │                      ⡇
      │                      ⡇
1,500 ┤                      B⣀⣀⣀⣀⣀⣀⣀⣀⣀⣀⣀⡀
      │                                  C⠉⠉⠉⠉⠉⠉⠉⠉⠉⠉⠉⠉⠉⠉⠉⠉⠉⠉⠉⠉⠉⠉⠉⠉⠉⠉⠉⠉⠉⠉⡇
      │                                                                 ⡇
1,000 ┤                                                                 ⡇
      │                                                                 ⡇
      │                                                                 D⣀⣀
  500 ┤
      │
      │
    0 ┤
      └─────────────┬──────────────┬───────────────┬───────────────┬───────
                 2027-07        2028-01         2028-07         2029-01
       everything ready on

A  2027-03-01  2,210.00 EUR  buy all now
B  2027-10-15  1,423.50 EUR  compost of a year
C  2028-03-01  1,390.00 EUR  grow half of it
D  2029-03-01    640.00 EUR  heap, then grow
"""
