"""Wood that may be painted or treated: told by its name, its origin or notes, it goes nowhere."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from barrowful.answers.cautions import cautions_for
from barrowful.answers.options import options
from barrowful.measures.problems import Problem
from barrowful.site.records import Site

SiteOf = Callable[..., Site]
Describe = Callable[..., dict[str, Any]]
Told = Callable[..., tuple[Problem, ...]]
COVER = {"cover": {"depth": "5 cm"}}
#: Where wood came from that was in use, as growers say it.
TIMBER = [
    "old pallets and painted decking",
    "our old fence panels",
    "a demolition site",
    "railway sleepers",
    "untreated scaffold boards",
    "chipboard ends",
    "street trees and treated posts",
    "no trees but pallets",
]
#: Where clean wood may come from, and whether that says what trees it is of.
CLEAN = {
    "street trees": True,
    "roadside ash and hazel": True,
    "hedge along the fence": True,
    "park trees, no pallets": True,
    "the lane": False,
    "the mill": False,
    "no pallets": False,
    "untreated": False,
}


def seller(**terms: str) -> dict[str, Any]:
    """Return a seller of chipped wood."""
    return {"name": "crew", "buy": {"material": "chipped wood", "price": "9 EUR/m3", **terms}}


def pile(origin: str) -> dict[str, Any]:
    """Return a pile of chipped wood."""
    return {"name": "pile", "have": {"material": "chipped wood", "amount": "3 m3", "origin": origin}}


@pytest.mark.parametrize("told", TIMBER)
@pytest.mark.parametrize(
    "way", [lambda told: seller(origin=told), lambda told: seller(notes=told), pile], ids=["origin", "notes", "pile"]
)
def test_timber_is_put_on_nothing(
    site_of: SiteOf, warnings_of: Told, bed: Describe, way: Callable[[str], dict[str, Any]], told: str
) -> None:
    """Naming what it was does not end the question: it bars the stuff, and a warning names the word."""
    described = [bed(COVER)], [way(told)]
    [row] = options(site_of(*described)).options
    assert not row.feasible
    assert not row.decision.every_dose
    assert "arsenic" in row.why_not
    [warning] = warnings_of(*described)
    assert warning.code == "treated-timber"
    assert warning.message.split('"')[1] in told


@pytest.mark.parametrize(("told", "trees"), CLEAN.items())
def test_clean_wood_is_asked_about_until_its_trees_are_named(
    site_of: SiteOf, bed: Describe, told: str, trees: bool
) -> None:
    """Any words at all had ended the question what the chip is of."""
    for way in (seller(origin=told), pile(told)):
        answer = options(site_of([bed(COVER)], [way]))
        keys = {of.caution.key for of in cautions_for(answer)}
        assert answer.options[0].feasible
        assert ("treated-timber" in keys) is not trees


def test_a_name_tells_it_too(site_of: SiteOf, bed: Describe) -> None:
    """A material or a way that is called so is barred without a word of its origin."""
    chip = {"like": "arborist chip"}
    named = {"name": "crew", "buy": {"material": "pallet chip", "price": "9 EUR/m3", "origin": "trees"}}
    for way in (named, {**seller(origin="trees"), "name": "old decking"}):
        [row] = options(
            site_of([bed(COVER)], [way], materials={"pallet chip": chip, "chipped wood": chip})
        ).options
        assert "arsenic" in row.why_not


def test_it_goes_into_no_heap(problems_of: Told, bed: Describe) -> None:
    """Neither drawn from such a way, nor by its name or flag."""
    greens = {"material": "coffee grounds", "mass": "300 kg"}
    stuffs = {
        "pallet chip": {"like": "arborist chip"},
        "bad chip": {"like": "arborist chip", "flags": ["treated_timber"]},
        "chipped wood": {"like": "arborist chip"},
    }
    for part in (
        {"way": "crew"},
        {"material": "pallet chip", "volume": "1 m3"},
        {"material": "bad chip", "volume": "1 m3"},
    ):
        heap = {"name": "heap", "make": {"bay": "1 m3", "from": [part, greens]}}
        ways = [seller(origin="painted fence"), heap]
        found = problems_of([bed({"dress": {"depth": "1 cm"}})], ways, materials=stuffs)
        assert [one.code for one in found] == ["treated-timber"]


def test_treated_is_no_word_for_wood(problems_of: Told, bed: Describe) -> None:
    """The flag means heated or composted: on wood it would be read as its opposite."""
    for class_, codes in (("wood", ["treated-timber"]), ("manure", [])):
        stuffs = {"stuff": {"class": class_, "flags": ["treated"]}}
        found = problems_of([bed(COVER)], [], materials=stuffs)
        assert [one.code for one in found] == codes
