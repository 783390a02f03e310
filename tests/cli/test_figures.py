"""The figures command: what is judged or assumed is seen like any other figure."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from barrowful.catalogue.contents import FIGURE_KINDS, figures_of_kind, words
from barrowful.catalogue.judgements import judgement_names

Ask = Callable[..., Any]


def test_judgements_are_seen_with_their_reason(ask: Ask) -> None:
    """Every judgement has a line with value, unit, what it refers to, grade and reason."""
    done = ask("figures", "judgements", "--format", "json")
    rows = done.json["tables"][0]["rows"]
    assert [row["figure"] for row in rows] == list(judgement_names())
    for row in rows:
        for key in ("likely", "unit", "basis", "grade", "source", "place_in_source"):
            assert row[key], (row["figure"], key)


def test_the_list_names_what_can_be_asked_for(ask: Ask) -> None:
    """Kinds of figure stand in the list under the names they are asked for by; classes, flags, ceilings too."""
    rows = ask("figures", "--format", "json").json["tables"][0]["rows"]
    listed = {row["name"]: row for row in rows}
    for name in FIGURE_KINDS:
        assert int(listed[name]["figures"]) == sum(map(len, figures_of_kind(name).values())) > 10
        assert ask("figures", name).code == 0
    sorts = {"class", "flag", "ceiling"}
    assert {row["name"] for row in rows if row["sort"] in sorts} == set(words())


@pytest.mark.parametrize("word", ["fine_wood", "wood"])
def test_a_word_without_figures_is_explained(ask: Ask, word: str) -> None:
    """A flag or a class asked for is told apart from a name that is not known."""
    done = ask("figures", word)
    assert done.code == 3
    assert f'"{word}" is a ' in done.err
    assert "no figures of its own" in done.err


def test_a_misspelt_kind_is_suggested(ask: Ask) -> None:
    """The names of kinds are among those suggested."""
    assert '"judgements"?' in ask("figures", "judgments").err
