"""Small random sites of two years: some places and needs, and ways of each kind."""

from __future__ import annotations

import random
from typing import Any

from plan_sites import NEEDS, SOIL

Plain = dict[str, Any]

SOLD = [
    "ground limestone",
    "dark stuff",
    "chipped wood",
    "yellow stalks",
    "topsoil",
    "feather meal",
    "manure compost",
]


def place(luck: random.Random, number: int, among: list[str]) -> Plain:
    """Return a place of any kind with some of the kinds of need."""
    kinds = luck.sample(among, luck.randint(1, len(among)))
    found: Plain = {
        "name": f"place {number}",
        "kind": luck.choice(["bed", "bed", "bed", "row", "tree", "pot"]),
        "shape": {"area": f"{luck.randint(2, 12)} m2"},
        "count": luck.choice([1, 1, 2]),
        "needs": [{kind: luck.choice(NEEDS[kind])} for kind in kinds],
    }
    if luck.random() < 0.2:
        found["layer_now"] = "3 cm"
    if luck.random() < 0.2:
        found["limits"] = {"lift": ["suits", "fill_share"]}
    return found


def seller(luck: random.Random) -> Plain:
    """Return the terms of a seller."""
    stuff = luck.choice(SOLD)
    if stuff == "feather meal":
        return {"buy": {"material": stuff, "price": f"{luck.randint(10, 40) / 10} EUR/kg"}}
    terms: Plain = {"material": stuff, "price": f"{luck.randint(0, 60)} EUR/m3"}
    terms |= luck.choice([{}, {"delivery": f"{luck.randint(5, 60)} EUR"}, {"step": "0.5 m3"}])
    terms |= luck.choice([{}, {"minimum": "1 m3"}, {"lead": f"{luck.randint(1, 60)} weeks"}, {"trip": "1 h"}])
    return {"buy": terms}


def pile(luck: random.Random) -> Plain:
    """Return a pile of some stuff."""
    amount = f"{luck.randint(1, 12) * 100} L"
    stuff = luck.choice(["dark stuff", "chipped wood", "autumn leaves"])
    return {"have": {"material": stuff, "amount": amount, "per_year": luck.random() < 0.5}}


def patch(luck: random.Random) -> Plain:
    """Return something that is grown."""
    plant = luck.choice(["comfrey", "hairy vetch", "rye"])
    planted = "2024-04-01" if plant == "comfrey" else "2026-09-13"
    return {"grow": {"plant": plant, "area": f"{luck.randint(5, 60)} m2", "planted": planted}}


def heap(luck: random.Random, ways: list[Plain]) -> Plain:
    """Return a heap of what is carried there, and of a pile or a seller of the site where there is one."""
    chips = [way["name"] for way in ways if {"have", "buy"} & way.keys() and "chipped wood" in str(way)]
    chip: Plain = {"way": luck.choice(chips)} if chips else {"material": "chipped wood", "volume": "3 m3"}
    greens = {"material": "coffee grounds", "mass": f"{luck.randint(1, 6) * 100} kg"}
    return {"make": {"bay": "1 m3", "turn_every": "2 weeks", "from": [chip, greens]}}


def small_site(seed: int, limited: bool = True, limits: bool = True) -> Plain:
    """Return places, ways and more of a small site; without ``limited`` all its ways are sellers."""
    luck = random.Random(seed)
    kinds = luck.sample(list(NEEDS), luck.choice([1, 2, 2, 3, 3]))
    places = [place(luck, number, kinds) for number in range(luck.choice([1, 2, 2, 3, 4]))]
    ways: list[Plain] = []
    for number in range(luck.choice([2, 3, 3, 4, 5])):
        sort = luck.choice(["buy", "buy", "have", "grow", "make"]) if limited else "buy"
        made = (
            heap(luck, ways) if sort == "make" else {"buy": seller, "have": pile, "grow": patch}[sort](luck)
        )
        ways.append({"name": f"way {number}", **made})
    names = [way["name"] for way in ways]
    for described in places:
        if luck.random() < 0.4:
            described["ways"] = luck.sample(names, luck.randint(1, len(names)))
    more: Plain = {"labour": {"hourly_value": f"{luck.choice([0, 0, 8, 25])} EUR/h"}, "horizon": "2 years"}
    more["soil"] = SOIL
    if limits and luck.random() < 0.4:
        more["limits"] = luck.choice(
            [
                {"cash": f"{luck.randint(0, 150)} EUR"},
                {"hours": f"{luck.randint(1, 20)} h"},
                {"by": "2028-06-01"},
            ]
        )
    return {"places": places, "ways": ways, **more}


def tight_site(seed: int) -> Plain:
    """Return a small site with one or two limits that leave needs out, and at times a soil that is limed already."""
    luck, described = random.Random(f"tight {seed}"), small_site(seed, limits=False)
    limits = {
        "cash": f"{luck.choice([0, 10, 30, 80])} EUR",
        "hours": f"{luck.choice([0.3, 1, 3, 8])} h",
        "by": luck.choice(["2027-06-01", "2028-06-01"]),
    }
    described["limits"] = {key: limits[key] for key in luck.sample([*limits], luck.choice([1, 1, 2]))}
    described["soil"] = {**described["soil"], "ph": luck.choice(["5.6", "6.1", "6.6"])}
    return described
