"""The page of what is judged or recalled: it is whole, and says what would settle each figure."""

from __future__ import annotations

from typing import Any

from scripts import DOCS, load_file

from barrowful.catalogue.vocabulary import FIGURES, PLANT_FIGURES
from barrowful.measures.dimensions import SI

PAGE = load_file(DOCS / "judged.py")


def test_the_page_is_what_the_catalogue_says_now() -> None:
    """What stands in docs/judged.md is what the catalogue gives."""
    assert PAGE.page() == (DOCS / "judged.md").read_text("utf-8")


def test_every_judged_figure_has_a_line(entries: list[Any]) -> None:
    """As many lines as there are figures in the files that are graded judgement or from memory."""
    graded = [one for one in entries if one.is_figure and one.table["grade"] in ("judgement", "from memory")]
    lines = [
        line for line in PAGE.page().splitlines() if line.startswith("| ") and " | figure | " not in line
    ]
    lines = [line for line in lines if not line.startswith("| --- ")]
    assert len(lines) == len(graded) == len(PAGE.judged())
    assert {line.split(" | ")[6] for line in lines} == {"judgement", "from memory"}


def test_what_would_settle_a_figure_is_a_sentence() -> None:
    """Each says what to measure or whose word to take; what is written for one kind is not said of another."""
    for each in PAGE.judged():
        assert each.settled_by.endswith("."), each.name
        assert each.settled_by.count(" ") >= 2, each.name
    said = {each.name: each.settled_by for each in PAGE.judged() if each.subject == "materials"}
    assert "weighed" in said["density"]
    assert "trial" in said["available_nitrogen"]
    timed = {each.name for each in PAGE.judged() if "timed" in each.settled_by}
    assert {"barrow_fill", "dig_in", "heap_turn"} <= timed


def test_nothing_is_settled_that_is_not_there() -> None:
    """Every name in the file of what settles is one of the catalogue, and every dimension is provided for."""
    known = {each.name for each in PAGE.everything()}
    assert set(PAGE.NAMED) <= known
    assert set(PAGE.DATA["by_figure"]["materials"]) <= set(FIGURES)
    assert set(PAGE.DATA["by_figure"]["plants"]) <= set(PLANT_FIGURES)
    assert set(PAGE.DATA["by_figure"]["crops"]) <= known
    assert set(PAGE.DATA["by_dimension"]) == set(SI)


def test_the_catalogue_itself_may_say_it() -> None:
    """Where the kind of figure is not enough, the figure's own entry says what would settle it."""
    own = {each.name: each.settled_by for each in PAGE.judged() if each.figure.settled_by}
    assert own["tie_up_chip"].startswith("A pot trial of chip of three sizes")
    assert own["tie_up_chip"] != PAGE.NAMED["tie_up_chip"]
