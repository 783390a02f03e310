"""Grades: what was read says so, and what was chosen or recalled does not."""

from __future__ import annotations

import re
from typing import Any

import pytest

#: What a place or a note says of a likely value that no source prints, or of a part that was not looked up.
NOT_READ = re.compile(
    r"from memory|recalled|assumed|chosen|the middle|likely (value )?(is )?(near|judged)", re.I
)


def test_what_was_chosen_or_recalled_is_not_graded_read(entries: list[Any]) -> None:
    """A likely value that was chosen, or a part from memory: neither `read` nor `second-hand`."""
    told = [one for one in entries if one.is_figure and NOT_READ.search(words_about(one))]
    assert len(told) > 50
    assert [one.path for one in told if one.table["grade"] in ("read", "second-hand")] == []


def words_about(one: Any) -> str:
    """Return what an entry says of where its values are from."""
    return f"{one.table['place']} {one.table.get('note', '')}"


@pytest.mark.parametrize(
    ("path", "grade"),
    [
        ("ceilings.toml.nitrogen.farm", "from memory"),
        ("rates.toml.sow", "judgement"),
        ("materials/kitchen-waste.toml.moisture", "from memory"),
        ("materials/pig-manure.toml.moisture", "from memory"),
        ("materials/poultry-litter.toml.moisture", "from memory"),
        ("plants/field-peas.toml.dry_matter", "from memory"),
        ("plants/white-clover.toml.seed_rate", "from memory"),
        ("plants/tithonia.toml.strike_rate", "judgement"),
        ("materials/hay.toml.phosphorus", "derived"),
    ],
)
def test_figures_with_a_part_not_read_say_so(entries: list[Any], path: str, grade: str) -> None:
    """A limit recalled, a rate assumed for a small bed, a middle reckoned: each wears its own grade."""
    assert [one.table["grade"] for one in entries if one.path == path] == [grade]


def test_few_figures_are_from_memory(entries: list[Any]) -> None:
    """Under 15 % of the figures rest on memory, wholly or in part."""
    figures = [one for one in entries if one.is_figure]
    recalled = [one for one in figures if one.table["grade"] == "from memory"]
    assert 0 < len(recalled) < 0.15 * len(figures)
