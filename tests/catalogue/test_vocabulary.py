"""What growers also call materials and crops leads to names of the catalogue."""

from __future__ import annotations

from typing import Any

import pytest

from barrowful.catalogue.crops import crop_names
from barrowful.catalogue.materials import names
from barrowful.measures.problems import SiteProblems
from barrowful.site.load import load


def test_what_is_said_is_known(contents: dict[str, Any]) -> None:
    """Each word leads to a material or a crop, and is none itself."""
    known, said = {*names(), *crop_names()}, contents["vocabulary.toml"]["said"]
    assert set(said.values()) <= known
    assert not known & said.keys()
    assert [word for word in said if word != " ".join(word.split()).casefold()] == []


@pytest.mark.parametrize(
    ("word", "meant"), [("wood chip", "arborist chip"), ("Well rotted manure", "manure compost")]
)
def test_a_file_is_told_what_is_meant(word: str, meant: str) -> None:
    """By its letters alone wood chip was wood ash."""
    text = f"{{site: A, currency: EUR, start: 2027-03-01, ways: [{{name: a, have: {{material: {word}, amount: 1 m3}}}}]}}"
    with pytest.raises(SiteProblems, match=f'did you mean "{meant}"'):
        load(text.encode(), "field.yaml")
