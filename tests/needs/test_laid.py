"""A cover that lies there already is made good when it falls to what is kept, and not before."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from typing import Any

import pytest

from barrowful.needs.registry import NEEDS, serve
from barrowful.needs.settled import Settled
from barrowful.site.records import Site
from barrowful.supplies.registry import supplies

Describe = Callable[..., dict[str, Any]]
SiteOf = Callable[..., Site]
START = date(2027, 3, 1)


@pytest.mark.parametrize(
    ("layer", "brings"), [("5.9 cm", 0.041), ("6.1 cm", 0.0), ("10 cm", 0.0), ("0 cm", 0.1)]
)
def test_what_lies_is_kept_up(
    site_of: SiteOf, bed: Describe, buy: Describe, layer: str, brings: float
) -> None:
    """Above what is kept nothing is brought at once, below it the whole depth is; either way it is kept up to the end."""
    need = {"cover": {"depth": "10 cm", "keep": "60 %"}}
    site = site_of([bed(need, layer_now=layer)], [buy(material="chipped wood")])
    [place], [way] = site.places, supplies(site).values()
    serving = serve(site, "cover", place, way, Settled(site))
    assert serving.why_not == ""
    assert serving.ready_on == START
    depth = sum(way.material.settled_depth(dose.loose / place.total_area) for dose in serving.doses)
    assert depth == pytest.approx(brings, rel=1e-6)
    assert serving.later
    judged = NEEDS["cover"].judge(site, place, serving.every_dose)
    assert (judged.why_not, judged.ready_on) == ("", START)
    without_last = NEEDS["cover"].judge(site, place, serving.every_dose[:-1])
    assert "not kept up" in without_last.why_not or without_last.share < 1


def test_what_lies_and_is_not_kept_up(site_of: SiteOf, bed: Describe, buy: Describe) -> None:
    """With nothing more put on, what the history put there does for a season and not to the end."""
    history = [{"date": "2027-02-01", "place": "bed", "material": "chipped wood", "depth": "12 cm"}]
    cover = {"cover": {"depth": "8 cm", "keep": "60 %"}}
    for horizon, met in (("1 year", True), ("4 years", False)):
        site = site_of([bed(cover)], [buy(material="chipped wood")], history=history, horizon=horizon)
        judged = NEEDS["cover"].judge(site, site.places[0], ())
        assert (judged.why_not == "") is met, judged
