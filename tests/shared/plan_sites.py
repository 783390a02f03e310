"""Small random sites that ask a plan for everything: each kind of need and way, ceilings, limits, history."""

from __future__ import annotations

import random
from typing import Any

Plain = dict[str, Any]

#: Every kind of need, in some ways that it may be asked.
NEEDS: dict[str, list[Plain]] = {
    "fill": [
        {"depth": "10 cm"},
        {"volume": "300 L"},
        {"volume": "400 L", "mix": {"compost": "30..60 %", "soil": "40..70 %"}},
    ],
    "lime": [{"ph": "6.5"}, {"ph": "6.2", "depth": "15 cm"}],
    "raise": [
        {"organic_matter": "2.3 %", "depth": "15 cm", "by": "2028-09-01"},
        {"organic_matter": "2.1 %", "depth": "15 cm", "by": "2028-03-01", "hold": "0 days"},
        {"organic_matter": "2.2 %", "depth": "15 cm"},
        {"organic_matter": "2.1 %", "depth": "20 cm", "hold": "2 months", "allowance": "10 %"},
    ],
    "dress": [{"depth": "1 cm"}, {"depth": "2 cm", "dug": True}, {"dose": "2 kg/m2"}, {"depth": "8 mm"}],
    "cover": [{"depth": "4 cm"}, {"depth": "8 cm", "keep": "50 %"}, {"depth": "5 cm", "settled": False}],
    "feed": [
        {"nitrogen": "2 g/m2"},
        {"phosphorus": "3 g/m2"},
        {"nitrogen": "5 g/m2", "potassium": "4 g/m2"},
        {"nitrogen": "8 g/m2", "allowance": "5 %"},
    ],
}
#: A soil that each of them may be asked of.
SOIL = {"organic_matter": "2 %", "bulk_density": "1.3 g/cm3", "clay": "20 %", "ph": "5.6"}
BULKY = ["dark stuff", "dark stuff", "chipped wood", "yellow stalks", "topsoil", "manure compost", "sand"]
BY_WEIGHT = ["feather meal", "ground limestone", "wood ash", "bone meal"]


def place(luck: random.Random, number: int, among: list[str]) -> Plain:
    """Return a place of any kind with some of the kinds of need, and what may bear on them."""
    kinds = luck.sample(among, luck.randint(1, len(among)))
    made: Plain = {
        "name": f"place {number}",
        "kind": luck.choice(["bed", "bed", "row", "tree", "pot"]),
        "shape": {"area": f"{luck.randint(2, 12)} m2"},
        "count": luck.choice([1, 1, 2]),
        "needs": [{kind: luck.choice(NEEDS[kind])} for kind in kinds],
    }
    if made["kind"] == "tree":
        made["shape"] = {"ring": {"radius": f"{luck.randint(8, 18) * 10} cm", "collar": "15 cm"}}
    for key, value, often in (
        ("layer_now", "3 cm", 0.2),
        ("new", True, 0.2),
        ("harvest_from", "07-15", 0.2),
        (
            "limits",
            luck.choice([{"lift": ["suits", "fill_share"]}, {"depth_per_year": "1 cm"}, {"farm": True}]),
            0.3,
        ),
    ):
        if luck.random() < often:
            made[key] = value
    return made


def seller(luck: random.Random) -> Plain:
    """Return the terms of a seller: by volume, in steps, bags or whole loads, by weight, shared or not."""
    terms: Plain
    if luck.random() < 0.25:
        stuff = luck.choice(BY_WEIGHT)
        sold = [{"price": f"{luck.randint(5, 40) / 10} EUR/kg"}, {"price": "7 EUR/bag", "bag": "5 kg"}]
        return {"buy": {"material": stuff, **luck.choice(sold)}}
    terms = {"material": luck.choice(BULKY)}
    terms |= luck.choice(
        [
            {"price": f"{luck.randint(0, 60)} EUR/m3"},
            {"price": f"{luck.randint(10, 60)} EUR/m3", "step": "0.5 m3"},
            {"price": f"{luck.randint(20, 60) / 10} EUR/bag", "bag": f"{luck.choice([40, 60])} L"},
            {"price": f"{luck.randint(10, 60)} EUR/load", "load": f"{luck.randint(1, 3)} m3"},
        ]
    )
    if "bag" not in terms:
        terms |= luck.choice([{}, {"delivery": f"{luck.randint(5, 60)} EUR", "truck": "1.5 m3"}])
        terms |= luck.choice([{}, {"minimum": "1 m3"}]) if "load" not in terms else {}
    else:
        terms |= luck.choice([{}, {"box": "0.5 m3", "payload": "300 kg", "trip": "1 h"}])
    terms |= luck.choice([{}, {"lead": f"{luck.randint(1, 40)} weeks"}])
    terms |= luck.choice([{}, {}, {"tax": "10 %"}])
    return {"buy": terms}


def pile(luck: random.Random) -> Plain:
    """Return stuff on hand."""
    stuff = luck.choice(["dark stuff", "chipped wood", "autumn leaves", "horse manure"])
    amount = f"{luck.randint(1, 12) * 100} L"
    return {"have": {"material": stuff, "amount": amount, "per_year": luck.random() < 0.5}}


def patch(luck: random.Random) -> Plain:
    """Return something that is grown."""
    plant = luck.choice(["comfrey", "comfrey", "hairy vetch", "rye"])
    planted = "2024-04-01" if plant == "comfrey" else "2026-09-13"
    costs = luck.choice([{}, {"cost": "12 EUR"}, {"displaces": "9 EUR"}])
    return {"grow": {"plant": plant, "area": f"{luck.randint(5, 60)} m2", "planted": planted, **costs}}


def heap(luck: random.Random, ways: list[Plain]) -> Plain:
    """Return a heap, or a pile left to rot, of a way of the site where there is one."""
    chips = [way["name"] for way in ways if {"have", "buy"} & way.keys() and "chipped wood" in str(way)]
    chip: Plain = {"way": luck.choice(chips)} if chips else {"material": "chipped wood", "volume": "3 m3"}
    if luck.random() < 0.3:
        return {"make": {"bay": "1 m3", "left": True, "from": [chip]}}
    greens = luck.choice(
        [
            {"material": "coffee grounds", "mass": f"{luck.randint(1, 6) * 100} kg", "price": "0.05 EUR/kg"},
            {"material": "grass clippings", "weekly": "150 L", "months": [4, 5, 6, 7, 8, 9]},
        ]
    )
    bays = luck.choice([1, 1, 2])
    return {"make": {"bay": "1 m3", "bays": bays, "turn_every": "2 weeks", "from": [chip, greens]}}


def planned_site(seed: int) -> Plain:
    """Return places, ways and more of a small site."""
    luck = random.Random(seed)
    kinds = luck.sample(list(NEEDS), luck.choice([1, 2, 2, 3]))
    places = [place(luck, number, kinds) for number in range(luck.choice([1, 2, 2, 3]))]
    ways: list[Plain] = []
    for number in range(luck.choice([2, 3, 3, 4])):
        sort = luck.choice(["buy", "buy", "buy", "have", "grow", "make"])
        made = (
            heap(luck, ways) if sort == "make" else {"buy": seller, "have": pile, "grow": patch}[sort](luck)
        )
        ways.append({"name": f"way {number}", **made})
    trees = [each["name"] for each in places if each["kind"] == "tree"]
    if trees and luck.random() < 0.5:
        ways.append(
            {
                "name": "ring",
                "grow": {"plant": "comfrey", "around": luck.choice(trees), "planted": "2027-04-01"},
            }
        )
    bought = [way for way in ways if "buy" in way]
    if len(bought) > 1 and luck.random() < 0.3:
        for way in bought[:2]:
            for key in ("delivery", "truck"):
                way["buy"].pop(key, None)
            way["buy"] |= {"seller": "both", "delivery": "20 EUR", "truck": "2 m3"}
    names = [way["name"] for way in ways]
    for described in places:
        if luck.random() < 0.3:
            described["ways"] = luck.sample(names, luck.randint(1, len(names)))
    return {"places": places, "ways": ways, **_more(luck, places)}


def _more(luck: random.Random, places: list[Plain]) -> Plain:
    more: Plain = {
        "horizon": luck.choice(["18 months", "2 years"]),
        "soil": SOIL,
        "labour": {"hourly_value": f"{luck.choice([0, 0, 8, 25])} EUR/h"},
    }
    if luck.random() < 0.3:
        more["labour"]["hours_per_week"] = f"{luck.choice([1, 2, 6])} h"
    if luck.random() < 0.4:
        more["limits"] = luck.choice(
            [
                {"cash": f"{luck.randint(0, 150)} EUR"},
                {"hours": f"{luck.randint(1, 20)} h"},
                {"by": "2028-06-01"},
                {"nitrogen": "20 g/m2"},
            ]
        )
    if luck.random() < 0.3:
        monthly = [22, 21, 19, 15, 12, 9, 8, 10, 12, 15, 18, 20]
        more |= {"hemisphere": "south", "climate": {"monthly_mean": [f"{mean} degC" for mean in monthly]}}
    elif luck.random() < 0.4:
        more["climate"] = {"annual_mean": "11 degC", "last_frost": "04-20", "first_frost": "10-25"}
    if luck.random() < 0.3:
        stuff = luck.choice(["dark stuff", "chipped wood", "horse manure"])
        done = {"date": "2026-11-20", "place": places[0]["name"], "material": stuff, "depth": "8 mm"}
        more["history"] = [{**done, "dug": luck.random() < 0.5}]
    return more
