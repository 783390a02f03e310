"""``--chart``: what each command draws under its tables and in a file, and what it refuses to draw."""

from __future__ import annotations

import re
import subprocess
import sys
import warnings
from collections.abc import Callable
from dataclasses import replace
from datetime import date
from io import BytesIO
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import pytest
from matplotlib.image import imread

from barrowful.answers.course import CourseRequest, course
from barrowful.answers.options import options
from barrowful.cli.files import read_bytes
from barrowful.jobs.season import season
from barrowful.site.load import load
from barrowful.tables.answer_pictures import course_charts, option_charts, season_chart
from barrowful.tables.writers.chart import Chart, Point
from barrowful.tables.writers.png import draw, png, pyplot

Call = Callable[..., Any]
DRAWING = ("options", "course", "heap", "season")
SVG = "{http://www.w3.org/2000/svg}"


@pytest.fixture(scope="module")
def yard(demos: dict[str, Path]) -> Any:
    """Give a demo site."""
    return load(*read_bytes(str(demos["odd-bucket-yard"]))).site


@pytest.fixture(scope="module")
def orchard(demos: dict[str, Path]) -> Any:
    """Give a demo site whose soil changes."""
    return load(*read_bytes(str(demos["crooked-ladle-orchard"]))).site


def drawn(call: Call, command: str, site: Path, file: Path) -> bytes:
    """Return what a command draws into a file, which it says, and leaves its answer as it is."""
    done = call(command, site, "--chart", file, "--format", "json")
    assert done.code == 0, done.err
    assert f"Wrote {file}." in done.err
    assert done.json["command"] == command
    return file.read_bytes()


@pytest.mark.parametrize("command", DRAWING)
def test_a_drawing_in_its_file(command: str, call: Call, demos: dict[str, Path], tmp_path: Path) -> None:
    """--chart FILE.svg writes a sound picture with a title and words for it, and leaves the answer as it is."""
    text = drawn(call, command, demos["odd-bucket-yard"], tmp_path / "drawing.svg").decode("utf-8")
    picture = ElementTree.fromstring(text)
    assert all((picture.findtext(f"{SVG}{part}") or "").strip() for part in ("title", "desc"))
    assert list(picture.iter(f"{SVG}text"))


@pytest.mark.parametrize("command", [*DRAWING, "plan"])
def test_a_drawing_as_png(command: str, call: Call, demos: dict[str, Path], tmp_path: Path) -> None:
    """--chart FILE.png writes a picture that is all in grey, with light and dark, and is as large as it says."""
    file = tmp_path / "drawing.PNG"
    dots = imread(BytesIO(drawn(call, command, demos["odd-bucket-yard"], file)), format="png")
    assert dots.shape[1] == 800
    assert dots.shape[0] >= 400
    assert (dots[..., :1] == dots[..., :3]).all()
    assert dots[..., 0].min() < 0.3
    assert dots[..., 0].max() == 1
    assert [path.name for path in tmp_path.iterdir()] == [file.name]


@pytest.mark.parametrize("command", DRAWING)
def test_a_png_needs_the_extra(
    command: str, refused: Callable[..., str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Without what draws it, the sentence says which line to run, and no file is begun."""
    monkeypatch.setitem(sys.modules, "matplotlib", None)
    told = refused(command, "--chart", str(tmp_path / "a.png"))
    assert "charts as .png need matplotlib: pip install 'barrowful[full]'" in told
    assert not list(tmp_path.iterdir())


def test_a_png_takes_words_as_they_stand() -> None:
    """What reads as a formula is drawn as it stands; a chart without a day says that there is none."""
    odd = "$\\frac{a$ _b_ 木"
    points = tuple(Point(label=odd, day=date(2027, 3, 1 + n), value=float(n % 2)) for n in range(9))
    chart = Chart(title=odd, about="", days="day", values=odd, unit="$", points=points, staircase=True)
    with warnings.catch_warnings():
        warnings.filterwarnings("ignore", "Glyph")  # the letters of matplotlib's own font
        drawn, empty = png(chart), png(replace(chart, points=()))
    assert imread(BytesIO(drawn), format="png").shape > imread(BytesIO(empty), format="png").shape


def test_letters_of_points_that_lie_together_stand_side_by_side() -> None:
    """Two ways of one price and day have both their letters; one apart has its own."""
    together = Point(label="a", day=date(2027, 3, 1), value=5.0)
    apart = replace(together, day=date(2027, 9, 1))
    chart = Chart(title="", about="", days="day", points=(together, replace(together, hollow=True), apart))
    axes = pyplot().figure().add_subplot()
    draw(axes, chart)
    assert [text.get_text() for text in axes.texts] == ["A b", "C"]


@pytest.mark.parametrize("command", DRAWING)
def test_a_drawing_on_the_screen(command: str, call: Call, demos: dict[str, Path]) -> None:
    """Under the tables it keeps to the screen, with axes; in the tables nothing changes."""
    plain = call(command, demos["odd-bucket-yard"]).text
    drawn = call(command, demos["odd-bucket-yard"], "--chart").text
    assert all(len(line) <= 100 for line in drawn.splitlines() if re.search("[│┤└]", line))
    assert "└" in drawn
    assert "└" not in plain
    assert [line for line in plain.splitlines() if line not in drawn.splitlines()] == []


def test_without_unicode_it_is_drawn_in_plain_letters(
    environment: Callable[..., dict[str, str]], demos: dict[str, Path]
) -> None:
    """Where standard output has ASCII only, every letter of a drawing is one of it."""
    done = subprocess.run(
        [sys.executable, "-m", "barrowful", "season", str(demos["odd-bucket-yard"]), "--chart"],
        env=environment(PYTHONIOENCODING="ascii"), capture_output=True, timeout=600, check=True,
    )  # fmt: skip
    assert done.stdout.isascii()
    assert b" ##" in done.stdout


def test_every_way_that_is_ready_is_a_point(yard: Any) -> None:
    """Options are points by day and cash, hollow where they are beaten or do not meet the need."""
    answer = options(yard)
    charts = option_charts(answer)
    rows = [row for row in answer.options if row.acts and row.ready_on]
    points = [point for chart in charts for point in chart.points]
    assert [(point.label, point.day, point.value) for point in points] == [
        (row.name, row.ready_on, row.cash) for row in rows
    ]
    hollow = [point.label for point in points if point.hollow]
    assert hollow == [row.name for row in rows if row.beaten_by or not row.feasible]
    assert hollow
    assert len(hollow) < len(points)
    assert all(chart.hollow_means and chart.unit == "GBP" for chart in charts)


def test_a_course_has_its_range(orchard: Any) -> None:
    """Soil organic matter is a line with its band, on the days and with the values of the course."""
    _, courses = course(orchard, CourseRequest())
    (chart,) = (of for of in course_charts(courses) if of.title.startswith("kitchen beds") and of.band_means)
    (followed,) = (of for of in courses if of.place.name == "kitchen beds")
    assert [reach.day for reach in chart.line] == [point.day for point in followed.points]
    last, wanted = chart.line[-1], followed.points[-1].matter
    assert wanted
    assert (last.low, last.likely, last.high) == tuple(100 * share for share in wanted)
    assert last.low < last.likely < last.high


def test_what_is_not_drawn_is_told(orchard: Any) -> None:
    """Equal courses are drawn once, and of very many the first, with how many there are beside them."""
    _, courses = course(orchard, CourseRequest())
    once = course_charts(courses)
    assert [of.line for of in course_charts([*courses, *courses])] == [of.line for of in once]
    assert not any(of.note for of in once)
    many = course_charts(replace(of, title=f"way {number}") for number in range(9) for of in courses)
    assert len(many) == 8
    assert [of.note for of in many] == [*[""] * 7, f"{9 * len(once) - 8} more charts are not drawn."]


def test_hours_are_those_of_the_weeks(yard: Any) -> None:
    """A bar is a week; together they are the hours of all weeks between two days, under the limit there is."""
    found = season(yard)
    first, last = found.weeks[0].first, found.weeks[-1].first
    chart = season_chart("Yard", found.weeks, first, last)
    assert [bar.value for bar in chart.bars] == [week.hours for week in found.weeks]
    assert chart.limit
    assert chart.limit.value == yard.labour.hours_per_week
    assert season_chart("Yard", found.weeks, first, first).bars == chart.bars[:1]


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (("options", "--by", "place", "--chart"), "does not go with --by place"),
        (("options", "--chart", "a.gif"), "is no .svg or .png; write --chart FILE.svg or --chart FILE.png"),
        (("course", "--chart", "a.pdf"), "is no .svg or .png; write --chart FILE.svg or --chart FILE.png"),
        (("season", "--chart", "--format", "ics"), "with --format ics write --chart FILE.svg"),
        (("heap", "--of", "straw", "--chart", "a.svg"), "a blend with --of has none"),
    ],
)
def test_what_is_not_drawn(words: tuple[str, ...], told: str, refused: Callable[..., str]) -> None:
    """What cannot be drawn is refused with what would be right, and nothing is written."""
    assert told in refused(*words)
