"""What would serve instead of a feed that a ceiling stops: what it brings along, and what it leaves wanted."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from barrowful.answers.lines import option_lines
from barrowful.answers.options import options
from barrowful.catalogue.crops import crops
from barrowful.catalogue.materials import Material, material
from barrowful.site.records import Site

SiteOf = Callable[..., Site]
Describe = Callable[..., dict[str, Any]]
Told = Callable[..., str]
TAIL = "; add it as a way with your price"


def stuff(name: str) -> Material:
    """Return a material of the catalogue."""
    found = material(name)
    assert found is not None
    return found


@pytest.fixture
def instead(site_of: SiteOf, bed: Describe, buy: Describe) -> Told:
    """Give a function that returns what would serve a bed of 10 m2, whose compost stops at an inch."""

    def told(feed: dict[str, str], **more: Any) -> str:
        site = site_of([bed({"feed": feed}, area=10, **more)], [buy()])
        (line,) = option_lines(options(site))
        assert line.option.decision.ceiling == "yearly_depth"
        return line.instead

    return told


def test_a_meal_that_brings_hardly_anything_else(instead: Told) -> None:
    """12 g of nitrogen: 60 % of the 12 % of feather meal are 72 g in each kg, so 1.67 kg, with 0.2 g/m2 of others."""
    meal = stuff("feather meal")
    kilograms = 0.12 / (meal["nitrogen"] * meal["available_nitrogen"])
    assert instead({"nitrogen": "12 g/m2"}) == f"feather meal, {kilograms:.3g} kg (bed){TAIL}"


def test_pellets_bring_too_much(instead: Told) -> None:
    """Pellets meet a gram of phosphorus as well; all they hold but that gram, and all the potassium, is too much."""
    pellets = stuff("pelleted poultry manure")
    kilograms = 0.12 / (pellets["nitrogen"] * pellets["available_nitrogen"])
    phosphorus, potassium = (100 * kilograms * pellets[name] for name in ("phosphorus", "potassium"))
    assert instead({"nitrogen": "12 g/m2", "phosphorus": "1 g/m2"}) == (
        f"pelleted poultry manure, {kilograms:.3g} kg (bed), with {phosphorus - 1:.2g} g/m2 phosphorus and"
        f" {potassium:.2g} g/m2 potassium too much{TAIL}"
    )


def test_what_a_crop_carries_off_is_not_too_much(instead: Told) -> None:
    """Cabbage takes phosphorus and potassium with it: so much less of what the pellets bring is too much."""
    pellets, cabbage = stuff("pelleted poultry manure"), crops()["cabbage"]
    assert cabbage.recommended is not None
    grams = 1000 * cabbage.recommended[1] / pellets["nitrogen"] / pellets["available_nitrogen"]
    over = grams * pellets["phosphorus"] - 1000 * cabbage.figures["phosphorus"].likely
    assert f"with {over:.2g} g/m2 phosphorus" in instead({"for": "cabbage"})


def test_what_no_one_thing_meets(instead: Told) -> None:
    """Of 30 g/m2 potassium beside the nitrogen no stuff brings enough: a meal for the nitrogen, and what is left."""
    meal = stuff("feather meal")
    grams = 12 / (meal["nitrogen"] * meal["available_nitrogen"])
    told = instead({"nitrogen": "12 g/m2", "phosphorus": "1 g/m2", "potassium": "30 g/m2"})
    assert told.startswith("feather meal, ")
    assert told.endswith(f" and 30 g/m2 potassium still wanted{TAIL}")
    lacking = float(told.split("with ")[1].split(" ")[0])
    assert 1 - grams * meal["phosphorus"] <= lacking < 1


def test_amounts_are_for_each_metre_of_many(instead: Told) -> None:
    """Of equal beds the kilograms are for each, and so are the grams for each square metre."""
    one = instead({"nitrogen": "12 g/m2", "phosphorus": "1 g/m2"})
    assert instead({"nitrogen": "12 g/m2", "phosphorus": "1 g/m2"}, count=4) == one.replace(
        " kg (bed)", " kg for each of 4 (bed)"
    )
