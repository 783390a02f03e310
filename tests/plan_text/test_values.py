"""What a line of the plan says is what the file holds afterwards, whatever letters its names have."""

from __future__ import annotations

import json
from collections.abc import Callable
from typing import Any

import pytest
import yaml
from draws import draws
from hypothesis import given
from hypothesis import strategies as st

from barrowful.measures.problems import SiteProblems
from barrowful.site.load import load
from barrowful.sitefile.text.lines import alike, line_of
from barrowful.sitefile.text.nodes import parse
from barrowful.sitefile.text.plan import with_plan

Write = Callable[..., Any]
ODD = [
    "a: b", "it's", "# one", "one #two", "beds, long", "{x}", "[x]", "yes", "No", "null", "~", "012", "12", "1.5", "1e3",
    "0x1F", "1_000", ".5", ".inf", "2027-03-01", "- dash", "-", "* star", "& co", "! now", "| bar", "> fold", "? what",
    "% of", "@ home", "`tick`", '"quoted"', "''", "'", "a 'b' c", "über den Zaun", "菜園", "back\\slash", "a\\nb", "colon:",
    ":colon", "...", "---", "a - b", "<<", "=", "a,b", "{", "}", "a:b", "true", "off", "y", "😀 bed", "plan", "a  b",
]  # fmt: skip


def named(head: str, name: str) -> str:
    """Return the head with its place and its way of another name."""
    written = json.dumps(name, ensure_ascii=False)
    return head.replace("name: beds", f"name: {written}").replace("name: yard", f"name: {written}")


@pytest.mark.parametrize("text", ["", "plan: []\n", "plan: [{place: x}]\n", "plan:\n- place: x\n"])
@pytest.mark.parametrize("name", ODD)
def test_places_and_ways_of_any_name(write: Write, head: str, name: str, text: str) -> None:
    """A place and a way whose names need quotes in YAML are found again under that very name."""
    found = write(named(head, name) + text, [{"place": name, "need": "cover", "way": name}])
    assert found.code == 0, found.said
    assert [(line.place, line.way) for line in found.site.plan] == [(name, name)]


@pytest.mark.parametrize("name", ODD)
def test_names_are_text_for_any_reader(name: str) -> None:
    """Another reader of YAML, which takes bare words for numbers, days or yes and no, reads names as text too."""
    line = {"place": name, "need": "cover", "way": name, "amount": "3 m3"}
    assert yaml.safe_load(line_of(line)) == line
    assert json.loads(line_of(line, as_json=True)) == line


NAMES = st.text(st.characters(exclude_categories=["C", "Zl", "Zp"]), min_size=1, max_size=60)
STARTS = (
    "", "plan:\n", "plan: [] # none\n", "plan: [{place: a, way: b}]\nhorizon: 3 years\n", "plan:\n- place: b\n  # c\n- way: d\n",
)  # fmt: skip


@draws(300)
@given(
    st.lists(st.tuples(NAMES, NAMES), max_size=5), st.sampled_from(STARTS), st.sampled_from(("\n", "\r\n"))
)
def test_names_of_any_letters(head: str, names: list[tuple[str, str]], start: str, end: str) -> None:
    """Any names a keyboard can write are read back letter for letter, and all else is as it was."""
    lines = [{"place": place, "need": "cover", "way": way} for place, way in names]
    data = (head + start).replace("\n", end).encode()
    new, after = with_plan(data, parse(data, "field.yaml"), lines)
    read = yaml.load(new, Loader=yaml.CBaseLoader)
    assert (read.pop("plan", "") or []) == lines
    kept = yaml.load(data, Loader=yaml.CBaseLoader)
    kept.pop("plan", None)
    assert read == kept
    assert new.startswith(head.replace("\n", end).encode())
    assert alike(parse(new, "field.yaml").top, after.top)
    assert with_plan(new, after, lines) == (new, after)


@draws(60)
@given(NAMES, NAMES)
def test_what_the_site_takes_for_a_name_can_be_planned(head: str, place: str, way: str) -> None:
    """A site file with such names that is sound is sound with a plan for them."""
    text = head.replace("name: beds", "name: " + json.dumps(place)).replace(
        "name: yard", "name: " + json.dumps(way)
    )
    try:
        site = load(text.encode(), "field.yaml").site
    except SiteProblems:
        return
    line = {"place": site.places[0].name, "need": "cover", "way": site.ways[0].name}
    new, _ = with_plan(text.encode(), parse(text.encode(), "field.yaml"), [line])
    planned = load(new, "field.yaml").site.plan[0]
    assert (planned.place, planned.way) == (site.places[0].name, site.ways[0].name)


def test_keys_stand_in_their_order(write: Write, head: str) -> None:
    """However a line was put together, it reads place, need, way, amount, date."""
    line = {"date": "2027-04-10", "amount": "1 m3", "way": "yard", "need": "cover", "place": "beds"}
    found = write(head, [line])
    assert found.after.decode() == (
        head + "plan:\n  - {place: beds, need: cover, way: yard, amount: 1 m3, date: 2027-04-10}\n"
    )
