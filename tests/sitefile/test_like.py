"""What a material is like: another of the file or of the catalogue, wherever in the file it stands."""

from __future__ import annotations

from itertools import pairwise, permutations

import pytest

from barrowful.site.load import load

SITE = "site: Far Side\ncurrency: EUR\nstart: 2027-03-01\nplaces: []\nmaterials:\n"
ENTRIES = (
    "green compost: {density: 900 kg/m3}",
    "mine: {like: green compost, nitrogen: 2 %}",
    "ours: {like: mine, moisture: 30 %}",
)


@pytest.mark.parametrize("order", [*permutations(ENTRIES)])
def test_what_is_like_another_has_its_figures_in_any_order(order: tuple[str, ...]) -> None:
    """Figures are those of the file's own entry, not of the catalogue's of that name, through two steps."""
    materials = load((SITE + "".join(f"  {one}\n" for one in order)).encode(), "x.yaml").site.materials
    assert [materials[name]["density"] for name in ("green compost", "mine", "ours")] == [900.0] * 3
    assert (materials["ours"]["nitrogen"], materials["ours"]["moisture"]) == (0.02, 0.3)


def test_an_entry_may_be_like_its_namesake_of_the_catalogue() -> None:
    """A material of the catalogue's name that is like itself takes over what the catalogue has."""
    text = SITE + "  green compost: {like: green compost, density: 900 kg/m3}\n"
    assert load(text.encode(), "x.yaml").site.materials["green compost"].class_ == "compost"


def test_a_long_chain_is_followed() -> None:
    """Each of many is like the next, the last alone has a figure."""
    names = [f"heap {number}" for number in range(3000)]
    chain = "".join(f"  {one}: {{like: {other}}}\n" for one, other in pairwise(names))
    text = SITE + chain + f"  {names[-1]}: {{like: straw, density: 77 kg/m3}}\n"
    assert load(text.encode(), "x.yaml").site.materials["heap 0"]["density"] == 77.0
