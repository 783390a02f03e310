"""What the crops named of a place bring: roots that fork, a taste for acid ground, food at the soil."""

from __future__ import annotations

from barrowful.site.records import Place


def wants_acid(place: Place) -> bool:
    """Say whether a crop named of a place wants its ground acid."""
    return any(crop.acid is not None for crop in place.grown)


def fed_once_picked(place: Place) -> bool:
    """Say whether a crop named of a place stands for years and is fed when it is picked, not in spring."""
    return any(crop.fed_picked for crop in place.grown)


def touches_soil(place: Place) -> bool:
    """Say whether what is eaten of a place touches the soil: as is told, else as its crops do."""
    if place.eaten_raw is not None:
        return place.eaten_raw
    return any(crop.on_soil for crop in place.grown)


def beside(place: Place) -> frozenset[str]:
    """Return what bears on what suits a place, by words of suits.toml: its needs, better stuff, its crops."""
    crops = {
        "forking crop": any(crop.forks for crop in place.grown),
        "acid crop": wants_acid(place),
        "eaten at the soil": touches_soil(place),
    }
    return place.asked.union(place.choice, (word for word, holds in crops.items() if holds))
