"""Flags and classes: rules and cautions choose by them, and never by what a material is called."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from barrowful.answers.cautions import cautions_for
from barrowful.answers.options import options
from barrowful.catalogue.classes import classes, flag_meanings
from barrowful.catalogue.materials import material, names
from barrowful.site.records import Site

SiteOf = Callable[..., Site]
Describe = Callable[..., dict[str, Any]]
Told = Callable[..., tuple[frozenset[str], tuple[float | None, ...]]]


@pytest.fixture(scope="session")
def told(site_of: SiteOf, bed: Describe, buy: Describe, apart: Any) -> Told:
    """Give a function that returns the cautions and the available nitrogen of a stuff dug in and on top, and how
    far it fills a pot.
    """

    def find(
        flags: list[str], like: str = "dark stuff", name: str = "thing", **more: str
    ) -> tuple[frozenset[str], tuple[float | None, ...]]:
        words = {**apart.stuff[like], **more, **({"flags": flags} if flags else {})}
        needs = [{"dress": {"depth": "1 cm", "dug": True}}, {"cover": {"depth": "3 cm"}}]
        pot = {**bed({"fill": {"volume": "10 L"}}, name="pot"), "kind": "pot"}
        site = site_of([bed(*needs), pot], [buy(material=name)], materials={name: words})
        answer = options(site)
        cautions = frozenset(one.caution.key for one in cautions_for(answer))
        filled = [row.decision.met_share for row in answer.options if row.need == "fill"]
        return cautions, (*(row.outcome.available_nitrogen for row in answer.options), *filled)

    return find


#: Flags that speak of the nitrogen of wood, or of manure that was treated, and the stuff they are tried on.
TRIED_ON = {
    "fine_wood": {"like": "chipped wood", "class": "wood"},
    "woody": {"like": "chipped wood", "class": "green"},
    "treated": {"class": "manure"},
    "treated_timber": {"like": "chipped wood"},
    "sand": {"class": "soil"},
}


#: Flags that change what only heaps, farms, carrots, cabbages and ground high in phosphorus are told: their own
#: tests hold them.
ELSEWHERE = {"citrus", "mineral", "of_manure", "mustard", "dropped"}


@pytest.mark.parametrize("flag", [flag for flag in flag_meanings() if flag not in ELSEWHERE])
def test_every_flag_changes_an_answer(told: Told, flag: str) -> None:
    """What a grower may write is never idle: a caution comes, or the nitrogen is another."""
    more = TRIED_ON.get(flag, {})
    assert told([flag], **more) != told([], **more)


def test_citrus_limits_a_heap(site_of: SiteOf, apart: Any) -> None:
    """Peel with the flag is a tenth of a heap at most, the same stuff without it is not held back."""

    def share(flags: list[str]) -> float:
        peel = {"like": "vegetable scraps", "moisture": "50 %", **({"flags": flags} if flags else {})}
        parts = [{"material": name, "volume": "2 m3"} for name in ("peel", "yellow stalks")]
        stuffs = {"peel": peel, "yellow stalks": apart.stuff["yellow stalks"]}
        parts.append({"material": "coffee grounds", "volume": "2 m3"})
        ways = [{"name": "heap", "make": {"bay": "1 m3", "from": parts}}]
        heap = options(site_of([], ways, materials=stuffs)).supplies["heap"]
        (recipe, *_) = [batch.recipe for batch in heap.batches]  # type: ignore[attr-defined]
        return float(recipe.mass_of(0) / 600 / recipe.volume)

    assert share(["citrus"]) <= 0.1 * (1 + 1e-6)
    assert share([]) > 0.11


@pytest.mark.parametrize(
    ("flag", "key"),
    [
        ("raw", "raw-manure-wait"),
        ("bird", "poultry-dust"),
        ("manure_based", "salts-seedlings"),
        ("salty", "salts-seedlings"),
        ("coffee", "coffee-mulch"),
        ("comfrey", "comfrey-not-food"),
        ("tithonia", "tithonia-weed-list"),
        ("grass", "weedkiller-grass"),
        ("walnut", "walnut"),
        ("alkaline", "limes-the-ground"),
        ("chalky", "limes-the-ground"),
    ],
)
def test_a_flag_calls_for_its_caution(told: Told, flag: str, key: str) -> None:
    """A flagged stuff calls for the caution, the same stuff without the flag does not."""
    assert key in told([flag])[0]
    assert key not in told([])[0]


@pytest.mark.parametrize(("salt", "salty"), [("3.9 dS/m", False), ("4 dS/m", True), ("14 dS/m", True)])
def test_salt_that_is_stated_calls_for_its_cautions(told: Told, salt: str, salty: bool) -> None:
    """From 4 dS/m of the saturated extract stuff is salty, whatever its flags."""
    assert ({"salts-seedlings", "salts-crops"} <= told([], conductivity=salt)[0]) is salty


@pytest.mark.parametrize("like", ["dark stuff", "chipped wood", "yellow stalks"])
@pytest.mark.parametrize(
    "name",
    [
        "sawdust for paths",
        "coffee from the corner",
        "walnut leaf",
        "poultry manure",
        "lawn clippings",
        "grass",
    ],
)
def test_a_name_alone_changes_nothing(told: Told, name: str, like: str) -> None:
    """A grower's own stuff is what its class and flags say, whatever it is called."""
    assert told([], like, name) == told([], like, "thing")


def test_like_takes_the_rules_over(site_of: SiteOf) -> None:
    """Fir sawdust, like sawdust, has its flags; flags of its own come to them; its class may be another."""
    stuffs = site_of(
        [],
        [],
        materials={
            "fir sawdust": {"like": "sawdust"},
            "path stuff": {"like": "fir sawdust", "flags": ["walnut"]},
            "old muck": {"like": "horse manure", "class": "compost"},
            "hen muck": {"like": "poultry litter"},
            "sawdust": {"density": "200 kg/m3"},
            "bark mulch": {"class": "compost"},
        },
    ).materials
    assert stuffs["fir sawdust"].has("fine_wood")
    assert stuffs["fir sawdust"].has("woody")
    assert stuffs["path stuff"].flags == {"fine_wood", "walnut"}
    assert not stuffs["old muck"].has("raw")
    assert stuffs["old muck"].finished
    assert stuffs["hen muck"].has("bird")
    assert stuffs["hen muck"].has("raw")
    assert stuffs["sawdust"].has("fine_wood")
    assert stuffs["bark mulch"].finished


def test_unknown_flags_are_problems(problems_of: Callable[..., tuple[Any, ...]]) -> None:
    """A flag that is none is told with those there are."""
    (problem,) = problems_of([], [], materials={"thing": {"class": "wood", "flags": ["fine_wod"]}})
    assert problem.code == "unknown-word"
    assert "fine_wood" in problem.message


def test_the_classes_of_the_catalogue() -> None:
    """Every class has a material, is described, and carries only flags there are."""
    used = {one.class_ for one in map(material, names()) if one is not None}
    assert used == set(classes())
    for one in classes().values():
        assert one.about.endswith(".")
        assert one.flags <= flag_meanings().keys()


def test_the_rules_of_each_class() -> None:
    """Which classes count as soil organic matter, tie up nitrogen, spoil, heat, and are rich."""

    def of(what: Callable[[Any], bool]) -> set[str]:
        return {name for name, one in classes().items() if what(one)}

    assert of(lambda one: one.finished) == {"compost", "manure"}
    assert of(lambda one: one.rich) == {"compost", "manure"}
    assert of(lambda one: "woody" in one.flags) == {"wood", "straw", "leaves", "paper"}
    assert of(lambda one: one.warned_dug) == {"wood", "straw", "paper"}
    assert of(lambda one: one.asks_origin) == {"wood"}
    assert of(lambda one: one.spoils) == {"green", "kitchen"}
    assert of(lambda one: one.heats) == {"wood", "green", "manure"}
    assert of(lambda one: one.grows_here) == {"green", "leaves"}
    assert of(lambda one: one.mineral) == {"soil"}
    assert of(lambda one: one.nitrogen == "leaf") == of(lambda one: one.later == "leaf") == {"green"}
    assert of(lambda one: one.later == "series") == {"manure"}
