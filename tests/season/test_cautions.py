"""Every caution of the catalogue: a job of a season that bears it, and a job like that which does not."""

from __future__ import annotations

from datetime import timedelta
from functools import cache
from pathlib import Path

import pytest
from season_sites import bed, site_text

import barrowful
from barrowful.catalogue.cautions import Caution, cautions
from barrowful.jobs.season import season
from barrowful.site.load import load

TESTS = Path(__file__).parents[1]
OWN = TESTS / "season" / "caution_sites"
#: Sites, and the way that is followed where it is not what is cheapest.
FOLLOWED: tuple[tuple[Path, str], ...] = (
    *((path, "") for path in sorted((TESTS.parent / "demo").glob("*.yaml"))),
    *((path, "") for path in sorted(OWN.glob("*.yaml"))),
    (TESTS / "answers" / "key_sites" / "manure.yaml", ""),
    (TESTS / "answers" / "key_sites" / "feeds.yaml", ""),
    (TESTS / "answers" / "key_sites" / "feeds.yaml", "ash"),
    (TESTS / "cli" / "sites" / "planned.yaml", ""),
    (TESTS / "cli" / "sites" / "chosen.yaml", "two-bay heap"),
    (TESTS.parent / "demo" / "crooked-ladle-orchard.yaml", "comfrey strip"),
    (TESTS.parent / "demo" / "tin-comet-ground.yaml", "winter rye and vetch"),
    (TESTS.parent / "demo" / "dry-thimble-terraces.yaml", "maize stalks"),
    (TESTS.parent / "demo" / "odd-bucket-yard.yaml", "bagged compost"),
    (TESTS.parent / "demo" / "odd-bucket-yard.yaml", "chip corner"),
)


#: What belongs to a job whatever it is of, here: cutting, liming, turning a heap, ending a cover crop.
OF_THE_JOB = {"cutting-tools", "lime-dust", "lime-takes-months", "turning-hot-heap", "turning-spores"} | {
    "cover-crop-seed",
    "cover-crop-wait",
}


@cache
def borne() -> tuple[tuple[str, frozenset[str]], ...]:
    """Return the word of each job of these seasons, with the keys of its cautions."""
    return tuple(
        (job.job, frozenset(job.cautions))
        for path, way in FOLLOWED
        for job in season(load(path.read_bytes(), path.name).site, way, partial=True).jobs
    )


@pytest.mark.parametrize("caution", cautions(), ids=lambda caution: caution.key)
def test_a_caution_is_borne_where_it_is_called_for_alone(caution: Caution) -> None:
    """A job of one of its words bears it, no other job does, and some job of its words is silent.

    What belongs to a job whatever it is of is borne by every one of its words.
    """
    bearing = {word for word, keys in borne() if caution.key in keys}
    assert bearing
    assert bearing <= caution.jobs
    silent = any(word in caution.jobs and caution.key not in keys for word, keys in borne())
    assert silent == (caution.key not in OF_THE_JOB)


@pytest.mark.parametrize("near_water", [False, True])
def test_the_wait_of_raw_manure_stands_on_first_screens(near_water: bool) -> None:
    """Whatever else is grave, the wait before harvest is on the screen: of the job with its own days."""
    muck = {"name": "stables", "have": {"material": "horse manure", "amount": "2 m3"}}
    place = {**bed(dress={"depth": "1 cm", "dug": True}), "near_water": near_water}
    limits = {"lift": ["suits"]}
    site = barrowful.load(site_text(places=[place], ways=[muck], limits=limits).encode())
    days = (site.site.start, site.site.end)
    rows = barrowful.season(site, first=days[0], last=days[1]).table("season").rows
    [(on, told)] = [(row["on"], row["caution"]) for row in rows if row["job"] == "spread"]
    wait = on + timedelta(days=120)
    assert "four months (120 days)" in told
    assert f"Spread on {on}, that is {wait}" in told
    for report in (barrowful.options(site), barrowful.orders(site)):
        assert "raw-manure-wait" in {note.key for note in report.gravest(every=False)}
