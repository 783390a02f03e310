"""What crops are advised, take up, carry off and are allowed."""

from __future__ import annotations

from typing import Any

import pytest

from barrowful.catalogue.crops import _recommended, crop, crops
from barrowful.catalogue.figures import CatalogueError, sources

ADVISED = {name: demand.recommended for name, demand in crops().items() if demand.recommended is not None}
#: A row of the guide for each of several crops, kg/ha at index 0 to 6.
PRINTED = {
    "sprouts": (330, 300, 270, 230, 180, 80, 0),
    "cabbage": (325, 290, 260, 220, 170, 70, 0),
    "broccoli": (235, 200, 165, 135, 80, 0, 0),
    "kale": (210, 190, 180, 160, 140, 90, 0),
    "snap bean": (180, 150, 120, 80, 30, 0, 0),
    "leek": (200, 190, 170, 160, 130, 80, 40),
    "lettuce": (200, 180, 160, 150, 125, 75, 30),
    "pea": (0, 0, 0, 0, 0, 0, 0),
}


@pytest.mark.parametrize("name", PRINTED)
def test_recommended_nitrogen_is_as_printed(name: str) -> None:
    """A kilogram a hectare is a tenth of a gram a square metre."""
    assert ADVISED[name] == pytest.approx([rate / 10_000 for rate in PRINTED[name]])


@pytest.mark.parametrize("name", ADVISED)
def test_recommended_nitrogen_falls_as_the_soil_gives_more(name: str) -> None:
    """Seven rates, none below nothing, none above the one of a poorer soil."""
    doses = ADVISED[name]
    assert len(doses) == 7
    assert sorted(doses, reverse=True) == list(doses)
    assert 0 <= min(doses) <= max(doses) <= 0.04
    shown = crops()[name].figures["recommended_nitrogen"]
    assert (shown.high, shown.likely, shown.low) == (doses[0], doses[2], doses[6])
    assert set(shown.sources) <= set(sources())
    assert "Index 0 to 6: " in shown.note


def test_recommended_rates_that_are_short_do_not_load() -> None:
    """Six rates are refused, and it says what is wanted."""
    entry: dict[str, Any] = {
        "values": ["1"] * 6,
        "unit": "kg/ha",
        "source": "x",
        "place": "y",
        "grade": "read",
    }
    with pytest.raises(CatalogueError, match="here: 7 values are wanted, of index 0 to 6"):
        _recommended(entry, "here")


def test_a_rate_is_told_from_uptake() -> None:
    """What is fed is not what is taken up; of fruit trees only what is fed is known."""
    told = {name for name, demand in crops().items() if "not uptake" in _notes(demand)}
    fed = {name for name, demand in crops().items() if not demand.uptake and not demand.per_tree}
    assert told == fed
    assert {"vegetables", "potato", "sweet corn", "courgette"} <= fed
    assert not any(demand.uptake for demand in crops().values() if demand.per_tree)
    assert crops()["leek"].uptake
    assert crops()["cabbage"].uptake


def _notes(demand: Any) -> str:
    figure = demand.figures.get("nitrogen")
    return figure.note if figure else ""


def test_carried_off_is_the_harvested_part() -> None:
    """Broccoli: 2 lb of P2O5 and 45 lb of K2O an acre in the heads; carrots without their tops."""
    acre = 0.45359237 / 4046.8564224
    broccoli, carrot = crop("broccoli"), crop("carrot")
    assert broccoli is not None
    assert carrot is not None
    assert broccoli.figures["phosphorus"].likely == pytest.approx(2 * acre * 0.4364, rel=0.03)
    assert broccoli.figures["potassium"].likely == pytest.approx(45 * acre * 0.8301, rel=0.002)
    assert carrot.figures["phosphorus"].likely == pytest.approx(0.00096)
    assert carrot.figures["potassium"].likely == pytest.approx(0.01859)


def test_farm_limits() -> None:
    """Three groups of crops; what is in none has no limit here."""
    limits = {name: demand.most_nitrogen for name, demand in crops().items()}
    assert [limits[name] for name in ("carrot", "onion", "leek")] == pytest.approx([0.018, 0.028, 0.037])
    assert limits["tomato"] is None
