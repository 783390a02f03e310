"""What is advice for beds is not followed round trees, nor what is for trees apart in a row of close ones."""

from __future__ import annotations

import pytest

from barrowful.answers.choices import cheapest
from barrowful.answers.options import options
from barrowful.measures.problems import SiteProblems
from barrowful.site.load import LoadedSite, load

HEAD = "site: Field, currency: EUR, start: 2027-03-01, horizon: 1 year, climate: {annual_mean: 10 degC}"


def site_of_text(place: str, ways: str, more: str = "") -> LoadedSite:
    """Return a site of one place and some ways."""
    return load(f"{{{HEAD}{more}, places: [{{{place}}}], ways: [{ways}]}}".encode(), "field.yaml")


@pytest.mark.parametrize(
    ("place", "most"),
    [
        ("kind: bed, shape: {area: 10 m2}", 0.100),
        ("kind: row, shape: {area: 10 m2}", 0.025),
        ("kind: tree, shape: {area: 10 m2}", 0.025),
    ],
)
def test_a_deep_first_dressing_is_for_beds(place: str, most: float) -> None:
    """OSU EM 9308 mixes 4 inches into new vegetable beds; round roots it stays at an inch a year."""
    loaded = site_of_text(
        f"name: new, {place}, new: true, needs: [{{dress: {{depth: 10 cm, dug: true}}}}]",
        "{name: yard, buy: {material: green compost, price: 40 EUR/m3}}",
    )
    [serving] = options(loaded.site).options[0].decision.servings
    assert serving.possible is None or serving.possible / 10 == pytest.approx(most)
    assert serving.met == (most == 0.100)
    unused = [warning for warning in loaded.warnings if warning.code == "unused"]
    assert [". new" in one.message or ".new:" in one.message for one in unused] == [True] * (most < 0.100)


LIMED = "name: bed, kind: bed, shape: {area: 10 m2}, needs: [{lime: {ph: 6.2}}]"
LIME = "{name: lime, buy: {material: ground limestone, price: 0.3 EUR/kg}}"


@pytest.mark.parametrize(("matter", "asks"), [("3 %", True), ("12 %", False), ("35 %", False)])
def test_clay_is_asked_for_where_it_counts(matter: str, asks: bool) -> None:
    """RB209 limes organic and peaty soil by its organic matter, whatever its clay."""
    soil = f", soil: {{organic_matter: {matter}, bulk_density: 0.9 g/cm3, ph: 5.2}}"
    warnings = site_of_text(LIMED, LIME, soil).warnings
    assert any("reckoned for a loam" in one.message for one in warnings) == asks


@pytest.mark.parametrize(("spacing", "told"), [("1 m", True), ("3 m", False)])
def test_a_feed_of_trees_that_stand_close_is_asked_about(spacing: str, told: bool) -> None:
    """What a tree gets by its age is for trees apart: at 1 m its nitrogen comes to far more on a m2."""
    place = f"ring: {{radius: 75 cm, collar: 10 cm, spacing: {spacing}}}"
    warnings = site_of_text(
        f"name: row, kind: row, count: 60, shape: {{{place}}}, needs: [{{feed: {{for: fruit tree, age: 3 years}}}}]",
        "{name: horn, buy: {material: hoof and horn, price: 2 EUR/kg}}",
    ).warnings
    assert any("stand apart" in one.message for one in warnings) == told


def test_what_is_over_a_limit_says_by_how_much_beside_the_rest() -> None:
    """Straw for 51 EUR is 21 over the limit beside what is followed, a bag for 20; by itself it is 1 over."""
    place = (
        "name: bed, kind: bed, shape: {area: 10 m2}, needs: [{cover: {depth: 5 cm}}, {dress: {depth: 1 cm}}]"
    )
    ways = (
        "{name: straw, buy: {material: straw, price: 51 EUR/load, load: 9 m3}},"
        " {name: yard, buy: {material: green compost, price: 20 EUR/bag, bag: 130 L}}"
    )
    cover = site_of_text(place, ways, ", limits: {cash: 50 EUR}").site
    whole = cheapest(options(cover))
    assert whole.met == ("dress",)
    because, _ = whole.why_left_out("cover", "bed")
    assert because == "straw would do, but 21.00 EUR over limits.cash beside the rest"


@pytest.mark.parametrize(
    ("kind", "shape", "asks"),
    [
        ("tree", "circle: {diameter: 1.8 m}", True),
        ("tree", "ring: {diameter: 1.8 m}", False),
        ("bed", "circle: {diameter: 1.8 m}", False),
    ],
)
def test_mulch_to_the_trunk_is_asked_about(kind: str, shape: str, asks: bool) -> None:
    """A circle round a tree has no bare collar; a ring has one whether it is written or not."""
    warnings = site_of_text(
        f"name: one, kind: {kind}, shape: {{{shape}}}, needs: [{{cover: {{depth: 8 cm}}}}]",
        "{name: chip, buy: {material: arborist chip, price: 9 EUR/m3}}",
    ).warnings
    assert any("reaches to the trunk" in one.message for one in warnings) == asks


def mulched(collar: str, trunk: str, needs: str = "{cover: {depth: 8 cm}}, ") -> LoadedSite:
    """Return a site of a tree with a ring and a trunk."""
    return site_of_text(
        f"name: one, kind: tree, shape: {{ring: {{radius: 1.2 m{collar}}}}},"
        f" needs: [{needs}{{feed: {{for: apple, trunk: {trunk}}}}}]",
        "{name: chip, buy: {material: arborist chip, price: 9 EUR/m3}}",
    )


@pytest.mark.parametrize(
    ("collar", "trunk", "told"),
    [
        (", collar: 25 cm", "45 cm", 'leave 15.0 cm more, "collar: 37.5 cm"'),
        (", collar: 37.5 cm", "45 cm", ""),
        ("", "12 cm", '"collar: 21.0 cm"'),
        (", collar: 16 cm", "12 cm", ""),
        ("", "6 cm", ""),
    ],
)
def test_mulch_too_near_the_bark_is_asked_about(collar: str, trunk: str, told: str) -> None:
    """A collar is from the middle of the trunk: of 25 cm a trunk of 45 cm leaves three bare.

    "Several inches" are to be clear: it is asked about from less than 10 cm on, and 15 cm are told.
    """
    found = [one.message for one in mulched(collar, trunk).warnings if one.code == "collar"]
    assert [told in one for one in found] == ([True] if told else [])
    assert not [one for one in mulched(collar, trunk, "").warnings if one.code == "collar"]


@pytest.mark.parametrize("needs", ["{cover: {depth: 8 cm}}, ", ""])
def test_a_ring_inside_the_trunk_is_a_problem(needs: str) -> None:
    """The default of 15 cm lies in a trunk of 45 cm: the ring was mulched, and its area fed."""
    with pytest.raises(SiteProblems) as found:
        mulched("", "45 cm", needs)
    [problem] = found.value.problems
    assert (problem.code, "ends inside it" in problem.message) == ("collar", True)
