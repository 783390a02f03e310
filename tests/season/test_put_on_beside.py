"""What is put on beside the jobs of a season meets their needs too: they put on less, and less is ordered."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from typing import Any

import pytest
from season_sites import Plain, bed, bought, site_text

from barrowful.jobs.job import Job
from barrowful.jobs.season import Season, season
from barrowful.jobs.season_told import sentences
from barrowful.site.load import load

TODAY = date(2027, 3, 10)


def of(*history: Plain, today: date | None = TODAY, **changed: Any) -> Season:
    """Return the season of a site with a history."""
    text = site_text(**{**changed, "history": [*history]})
    return season(load(text.encode(), "site.yaml").site, today=today)


def beside(material: str, amount: str, **more: Any) -> Plain:
    """Return an entry of stuff put on the beds that no way of the site brings."""
    return {"date": "2027-03-05", "place": "beds", "material": material, "amount": amount, **more}


def first(found: Season) -> Job:
    """Return what puts something on first."""
    return min((job for job in found.jobs if job.stuff is not None), key=lambda job: job.day)


def orders(found: Season) -> list[Job]:
    """Return the orders of a season."""
    return [job for job in found.jobs if job.job == "order"]


def test_half_a_dressing_of_other_stuff_leaves_half_of_it() -> None:
    """A centimetre on 20 m2 is 200 L: 100 L of leaf mould leave as much compost as half of it, and its money."""
    whole, found = first(of()), of(beside("leaf mould", "100 L"))
    less = first(found)
    assert whole.loose is not None
    assert less.loose == pytest.approx(whole.loose - 0.1, rel=0.03)
    assert less.likely == pytest.approx(whole.likely * less.loose / whole.loose)
    assert "as leaf mould was put on here beside" in less.told[-1]
    [order] = orders(found)
    assert order.cash == pytest.approx(Decimal(40) * Decimal(less.loose), abs=Decimal("0.01"))


def test_a_dressing_that_is_there_is_not_put_on_nor_ordered() -> None:
    """Nothing is left to do for it, and the answer says what meets it."""
    found = of(beside("leaf mould", "300 L"))
    assert not any(job.place for job in found.jobs if job.done is None)
    assert orders(found) == []
    assert any(
        "what your history has put on beside (leaf mould) meets it" in told for told in sentences(found)
    )


def test_a_feed_is_less_what_was_given_beside() -> None:
    """A kilogram of feather meal is 72 g of nitrogen in its season (12 %, of which 60 %), of 160 g wanted."""
    parts: Plain = {
        "horizon": "1 year",
        "places": [bed(feed={"nitrogen": "8 g/m2"})],
        "ways": [bought("blood meal", "blood", price="3 EUR/kg")],
    }
    whole, less = first(of(**parts)), first(of(beside("feather meal", "1 kg"), **parts))
    assert whole.loose is not None
    assert less.loose == pytest.approx(whole.loose * (160 - 72) / 160, rel=0.03)


def test_a_raise_that_other_compost_has_met_is_not_dug_in_again() -> None:
    """What is dug in beside counts for a raise; with it goes the digging, and the order."""
    need = {"organic_matter": "3 %", "depth": "15 cm", "by": "2029-01-01"}
    parts: Plain = {"places": [bed(**{"raise": need})]}
    spread = first(of(**parts))
    assert spread.loose is not None
    found = of(
        beside("green compost", f"{3 * spread.loose:.3f} m3", dug=True, way="sacks"),
        **{
            **parts,
            "ways": [bought(), bought("green compost", "sacks", price="90 EUR/m3")],
        },
    )
    assert {job.job for job in found.dropped} >= {"spread", "dig in"}
    assert orders(found) == []


def test_what_is_of_a_job_is_not_beside_it() -> None:
    """A part of a job leaves the rest of it, however much that is, and a cover is left as it is."""
    part = {"date": "2027-03-05", "place": "beds", "way": "yard", "amount": "50 L"}
    whole, begun = first(of()), first(of(part))
    assert begun.loose == whole.loose
    layer: Plain = {"places": [bed(kind="row", cover={"depth": "5 cm"})], "ways": [bought("arborist chip")]}
    assert first(of(beside("straw", "1 m3"), **layer)).loose == first(of(**layer)).loose
