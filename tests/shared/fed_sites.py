"""Small random sites of beds that are fed, by ways sold in bags, steps and loads with deliveries."""

from __future__ import annotations

import random
from copy import deepcopy
from typing import Any

Plain = dict[str, Any]

FEEDS: list[Plain] = [
    {"nitrogen": "8 g/m2"},
    {"nitrogen": "12 g/m2"},
    {"nitrogen": "8 g/m2", "potassium": "8 g/m2"},
    {"nitrogen": "10 g/m2", "phosphorus": "2 g/m2", "potassium": "12 g/m2"},
    {"for": "lettuce"},
    {"for": "leek"},
]
BAGS = {"feather meal": 20, "sulphate of potash": 25, "bone meal": 10, "poultry litter": 15}
BULK = ["green compost", "mushroom compost", "cattle manure"]


def bagged(luck: random.Random, stuff: str) -> Plain:
    """Return the terms of a seller of bags."""
    return {"material": stuff, "price": f"{luck.randint(5, 50)} EUR/bag", "bag": f"{BAGS[stuff]} kg"}


def bulk(luck: random.Random, stuff: str) -> Plain:
    """Return the terms of a seller of loose stuff."""
    terms: Plain = {"material": stuff, "price": f"{luck.randint(1, 12) * 5} EUR/m3"}
    terms |= luck.choice([{}, {"step": "0.25 m3"}, {"step": "1 m3"}, {"minimum": "1 m3"}])
    return terms | luck.choice([{}, {"delivery": f"{luck.randint(1, 10) * 5} EUR"}, {"lead": "2 weeks"}])


def fed_site(seed: int) -> Plain:
    """Return places, ways and more of a small site of beds that are fed, some dressed before."""
    luck = random.Random(seed)
    places = []
    for number in range(luck.choice([1, 2, 2, 3])):
        needs: list[Plain] = [{"feed": luck.choice(FEEDS)}]
        if luck.random() < 0.3:
            needs.insert(0, {"dress": {"depth": luck.choice(["1 cm", "1.5 cm"])}})
        area, count = f"{luck.randint(4, 40)} m2", luck.choice([1, 1, 2])
        places.append(
            {"name": f"bed {number}", "kind": "bed", "shape": {"area": area}, "count": count, "needs": needs}
        )
    stuffs = luck.sample([*BAGS], luck.randint(1, 3)) + luck.sample(BULK, luck.randint(1, 2))
    ways = [
        {"name": f"way {number}", "buy": (bagged if stuff in BAGS else bulk)(luck, stuff)}
        for number, stuff in enumerate(stuffs)
    ]
    return {"places": places, "ways": ways, "horizon": luck.choice(["1 year", "2 years"])}


def at_price(site: Plain, way: int, factor: float) -> Plain:
    """Return a site on which one way costs so many times what it does."""
    other = deepcopy(site)
    buy = other["ways"][way]["buy"]
    price, unit = buy["price"].split(" ")
    buy["price"] = f"{float(price) * factor:.2f} {unit}"
    return other


def without(site: Plain, way: int) -> Plain:
    """Return a site without one of its ways."""
    return {**site, "ways": [of for number, of in enumerate(site["ways"]) if number != way]}
