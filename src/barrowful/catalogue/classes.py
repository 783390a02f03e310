"""Classes and flags of materials: what rules and cautions choose by, never a material's name."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from typing import NamedTuple

from barrowful.catalogue.figures import load


class MaterialClass(NamedTuple):
    """What a class of material means for the rules; the head of ``classes.toml`` says what each is."""

    name: str
    about: str
    flags: frozenset[str] = frozenset()
    finished: bool = False
    mineral: bool = False
    nitrogen: str = "share"
    later: str = "trickle"
    manure_table: bool = False
    tie_up: str = ""
    tie_up_autumn: str = ""
    gives_back: str = ""
    by_balance: bool = False
    yearly_most: str = ""
    yearly_dug: str = ""
    density: str = ""
    available_nitrogen: str = ""
    available_phosphorus: str = "available_phosphorus_other"
    available_potassium: str = "available_potassium_other"
    surface: str = "surface_tie_up_coarse"
    on_top: str = "on_top"
    other_models: str = "plant"
    rich: bool = False
    bulky: bool = False
    apart_as_cover: bool = False
    spoils: bool = False
    heats: bool = False
    grows_here: bool = False
    warned_dug: bool = False
    asks_origin: bool = False
    rots_to: str = ""
    screened: bool = False
    heap_stuff: bool = False
    as_sold: bool = False
    declares: bool = False


@cache
def classes() -> Mapping[str, MaterialClass]:
    """Return every class by its name, in the order of the file."""
    entries = load("classes.toml")
    return {
        name: MaterialClass(**{**entry, "name": name, "flags": frozenset(entry.get("flags", ()))})
        for name, entry in entries.items()
    }


@cache
def flag_meanings() -> Mapping[str, str]:
    """Return what each flag does, by its name."""
    return {name: str(about) for name, about in load("flags.toml").items()}
