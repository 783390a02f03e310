"""Sound files of any shape: the plan is replaced as a whole, or added, and nothing else is touched."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import date
from typing import Any

import yaml
from draws import draws
from hypothesis import HealthCheck, given
from hypothesis import strategies as st
from shapes import COMMENTS, EDGE, PLAN, plain, sites

from barrowful.cli.planner import planner
from barrowful.site.load import load

Draw = Callable[[st.SearchStrategy[Any]], Any]
LINE = {"place": "it's, a [bed]", "need": "cover", "way": "yes"}


@st.composite
def plans(draw: Draw) -> list[dict[str, str]]:
    """Draw the lines of a plan."""
    more = st.fixed_dictionaries(
        {},
        optional={
            "amount": st.sampled_from(("0.1 m3", "12 L", "0.25 yd3")),
            "date": st.dates(date(2027, 3, 1), date(2030, 1, 1)).map(str),
        },
    )
    return [LINE | each for each in draw(st.lists(more, max_size=4))]


def line_ended(text: str, newline: str) -> bytes:
    """Return a text in UTF-8 with one kind of line end."""
    return text.replace("\n", newline).encode()


@draws(250, suppress_health_check=[HealthCheck.too_slow])
@given(sites(PLAN), plans(), st.sampled_from(("\n", "\n", "\r\n", "\r")), st.booleans())
def test_any_sound_file_gets_the_plan(drawn: str, lines: list[dict[str, str]], end: str, mark: bool) -> None:
    """The file holds these lines and no others, and every byte before and behind the plan is as it was."""
    before, middle, behind = drawn.split(EDGE)
    bom = b"\xef\xbb\xbf" if mark else b""
    data = bom + line_ended(before + middle + behind, end)
    new = planner("field.yaml", lines)(data)
    if middle:
        assert new.startswith(bom + line_ended(before, end))
        assert new.endswith(line_ended(behind, end))
    else:
        assert adds(new, data)
    assert end == "\n" or b"\n" not in new.replace(end.encode(), b"")
    old, now = plain(before + middle + behind), plain(new.decode("utf-8-sig").replace(end, "\n"))
    assert (now.pop("plan", "") or []) == lines
    old.pop("plan", None)
    assert now == old
    site = load(new, "field.yaml").site
    assert len(site.plan) == len(lines)
    assert replace(site, plan=()) == load(yaml.safe_dump(old).encode(), "field.yaml").site
    assert planner("field.yaml", lines)(new) == new
    for comment in COMMENTS:
        assert new.decode().count(comment) >= (before + behind).count(comment)


def adds(new: bytes, old: bytes) -> bool:
    """Say whether bytes are others with one piece put in, and perhaps a comma before it."""
    start = first_difference(old, new)
    comma = new[:start] + new[start + 1 :] if new[start : start + 1] == b"," else new
    return new.endswith(old[start:]) or comma.endswith(old[first_difference(old, comma) :])


def first_difference(old: bytes, new: bytes) -> int:
    """Return the index from which bytes differ, or where the shorter end."""
    same = (index for index, (one, other) in enumerate(zip(old, new, strict=False)) if one != other)
    return next(same, min(len(old), len(new)))
