"""The day plants were logged on is the day they stand from in the next season's file."""

from __future__ import annotations

import pytest
import yaml

from barrowful.cli.begin import begun
from barrowful.cli.log import adder

SITE = """\
site: Far Side
currency: EUR
start: 2027-03-01
horizon: 3 years
climate: {annual_mean: 11 degC}
places:
  - {name: bed, kind: bed, shape: {area: 3 m2}, needs: [{dress: {depth: 1 cm}}]}
ways:
  - name: patch
    grow: {plant: comfrey, start_with: 20, area: 10 m2, cost: 30 EUR}
"""


def planted(text: str) -> object:
    """Return the day that the next season's file has the patch planted on; None where it says none."""
    new, _ = begun(text.encode(), "x.yaml", "2028-03-01")
    return yaml.safe_load(new)["ways"][0]["grow"].get("planted")


@pytest.mark.parametrize(
    "entry",
    [
        "date: 2027-05-01, way: patch, job: plant",
        "date: 2027-05-01, way: patch, job: planted out in rain",
        "date: 2027-05-01, job: 'plant, patch, 1'",
    ],
)
def test_the_day_that_was_logged_is_kept(entry: str) -> None:
    """However it is written that the patch was planted, and whatever else was done of it before and after."""
    other = "{date: 2027-04-01, way: patch, job: order}, {date: 2027-08-01, way: patch, job: cut}"
    assert str(planted(f"{SITE}history: [{{{entry}}}, {other}]\n")) == "2027-05-01"


def test_what_was_only_ordered_does_not_stand() -> None:
    """Plants that were ordered are still to be planted."""
    assert planted(f"{SITE}history: [{{date: 2027-04-01, way: patch, job: order}}]\n") is None


def test_plants_that_stood_there_keep_their_day() -> None:
    """Gaps that are planted anew make no young stand."""
    stood = SITE.replace("cost: 30 EUR", "planted: 2024-04-01")
    text = f"{stood}history: [{{date: 2027-05-01, way: patch, job: plant}}]\n"
    assert str(planted(text)) == "2024-04-01"


def test_a_job_that_is_done_names_its_way() -> None:
    """An entry of the season's own job of planting names the patch."""
    new = adder("x.yaml", {"date": "2027-05-01"}, "plant, patch, 1")(SITE.encode())
    [entry] = yaml.safe_load(new)["history"]
    assert (entry["job"], entry["way"]) == ("plant, patch, 1", "patch")
    assert str(planted(new.decode())) == "2027-05-01"
