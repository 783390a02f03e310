"""Small made-up sites for the tests of a season, each worked out once."""

from __future__ import annotations

from functools import cache
from typing import Any

import yaml

from barrowful.jobs.season import Season, season
from barrowful.site.load import load

Plain = dict[str, Any]
MILD = ["4 degC", "5 degC", "7 degC", "10 degC", "13 degC", "16 degC"]
#: A temperate year of the north, January first, and one with a frozen winter.
NORTH = [*MILD, "18 degC", "18 degC", "15 degC", "11 degC", "7 degC", "5 degC"]
COLD = ["-6 degC", "-5 degC", "-1 degC", *NORTH[3:11], "-3 degC"]


@cache
def season_of_text(text: str) -> Season:
    """Return the season of a site file."""
    return season(load(text.encode(), "site.yaml").site)


def site_text(start: str = "2027-03-01", **changed: Any) -> str:
    """Return a site file with a bed that is dressed with bought compost, some parts of it changed."""
    plain: Plain = {
        "site": "Made-up Field",
        "currency": "EUR",
        "start": start,
        "horizon": "2 years",
        "climate": {"monthly_mean": NORTH, "last_frost": "04-20", "first_frost": "10-25"},
        "soil": {"organic_matter": "2 %", "bulk_density": "1.3 g/cm3", "clay": "25 %"},
        "places": [bed(dress={"depth": "1 cm"})],
        "ways": [bought()],
    }
    return yaml.safe_dump({**plain, **changed}, sort_keys=False)


def bed(name: str = "beds", count: int = 1, kind: str = "bed", **needs: Plain) -> Plain:
    """Return a place of 20 m2 with needs."""
    return {
        "name": name,
        "kind": kind,
        "shape": {"area": "20 m2"},
        "count": count,
        "needs": [{word: need} for word, need in needs.items()],
    }


def bought(material: str = "green compost", name: str = "yard", **terms: Any) -> Plain:
    """Return a way that is bought."""
    return {"name": name, "buy": {"material": material, "price": "40 EUR/m3", "lead": "1 week", **terms}}
