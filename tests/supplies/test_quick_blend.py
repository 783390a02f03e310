"""Quick blends: exact cases in whole numbers, targets that cannot be reached, and the words of --of."""

from __future__ import annotations

import json
import re
from collections.abc import Callable, Sequence
from pathlib import Path

import pytest
from click.testing import CliRunner
from draws import draws
from hypothesis import given
from hypothesis import strategies as st

from barrowful.catalogue.figures import computed
from barrowful.catalogue.materials import Material
from barrowful.cli.heap import command
from barrowful.cli.main import exit_code
from barrowful.measures.problems import CannotMeet, WrongUse
from barrowful.site.load import load
from barrowful.supplies.heap.blend import Blend, BlendPart, blend
from barrowful.supplies.heap.quick import Known, read_share, read_wanted


def stuff(name: str, moisture: float, nitrogen: float, ratio: float) -> Material:
    """Return a material of a moisture, a share of nitrogen and a C:N."""
    shares = {"moisture": moisture, "carbon": nitrogen * ratio, "nitrogen": nitrogen}
    return Material(name, "straw", "", {key: computed(key, "share", value) for key, value in shares.items()})


MANURE, STRAW = stuff("manure", 0.60, 0.02, 20), stuff("straw", 0.20, 0.005, 80)
SCRAPS, LEAVES, CHIPS = (
    stuff("scraps", 0.80, 0.03, 15),
    stuff("leaves", 0.40, 0.01, 40),
    stuff("chips", 0.25, 0.002, 200),
)


def masses(found: Blend) -> list[float]:
    """Return the wet masses of a blend [kg]."""
    return list(found.recipe.masses)


def test_manure_and_straw() -> None:
    """50 kg of manure at 60 % take exactly 20 kg of straw and 20 kg of water for 30 at 60 %."""
    found = blend([BlendPart(MANURE, 50.0), BlendPart(STRAW, None)], 30.0, 0.60)
    assert masses(found) == pytest.approx([50, 20])
    assert found.recipe.water == pytest.approx(20)
    assert found.recipe.cn == pytest.approx(30)
    assert found.recipe.moisture == pytest.approx(0.60)


def test_scraps_leaves_and_chips() -> None:
    """100 kg of scraps take exactly 65 kg of leaves and 20 kg of chips for 30 at 60 %."""
    found = blend([BlendPart(SCRAPS, 100.0), BlendPart(LEAVES, None), BlendPart(CHIPS, None)], 30.0, 0.60)
    assert masses(found) == pytest.approx([100, 65, 20])
    assert found.recipe.water == pytest.approx(0, abs=1e-6)
    assert found.recipe.total("carbon") == pytest.approx(30.6)
    assert found.recipe.total("nitrogen") == pytest.approx(1.02)


@pytest.mark.parametrize("second", [80.0, 40.0, 30.0])
def test_a_ratio_that_cannot_be_reached_is_said_to_be_so(second: float) -> None:
    """30 cannot be had from 40 and 80, nor by adding something that has just 30: no amount, no crash."""
    first = stuff("first", 0.4, 0.01, 40)
    with pytest.raises(CannotMeet, match="cannot be reached"):
        blend([BlendPart(first, 10.0), BlendPart(stuff("second", 0.4, 0.01, second), None)], 30.0, None)


def test_a_moisture_that_cannot_be_reached() -> None:
    """60 % cannot be had from two dry stuffs without water as one of them."""
    with pytest.raises(CannotMeet, match="cannot be reached"):
        blend([BlendPart(STRAW, 10.0), BlendPart(LEAVES, None)], None, 0.60)


def test_two_stuffs_that_push_the_same_way() -> None:
    """Two unknown amounts of stuffs that change both alike have no answer."""
    twin = stuff("twin", 0.40, 0.01, 40)
    with pytest.raises(CannotMeet):
        blend([BlendPart(SCRAPS, 100.0), BlendPart(LEAVES, None), BlendPart(twin, None)], 30.0, 0.60)


def test_too_wet_already() -> None:
    """100 kg of manure at 80 % with 20 kg of straw has 30 but 70 % water: too wet, and no water to add."""
    wet = stuff("wet manure", 0.80, 0.02, 20)
    found = blend([BlendPart(wet, 100.0), BlendPart(STRAW, None)], 30.0, 0.60)
    assert masses(found) == pytest.approx([100, 20])
    assert found.recipe.moisture == pytest.approx(0.70)
    assert found.recipe.water == 0
    assert any("Too wet" in sentence for sentence in found.sentences)


def test_more_unknown_amounts_than_aims() -> None:
    """Two amounts left out for one aim, or all of them, are refused."""
    with pytest.raises(WrongUse):
        blend([BlendPart(SCRAPS, 100.0), BlendPart(LEAVES, None), BlendPart(CHIPS, None)], 30.0, None)
    with pytest.raises(WrongUse):
        blend([BlendPart(SCRAPS, None)], 30.0, 0.60)


def test_published_grass_and_leaves() -> None:
    """Cornell: 10 kg of grass at 77 % and leaves at 35 % come to 60 % with 6.8 kg of leaves."""
    grass, leaves = stuff("grass", 0.77, 0.024, 0.45 / 0.024), stuff("leaves", 0.35, 0.0075, 0.50 / 0.0075)
    assert masses(blend([BlendPart(grass, 10.0), BlendPart(leaves, None)], None, 0.60)) == pytest.approx(
        [10, 6.8]
    )
    assert masses(blend([BlendPart(grass, 10.0), BlendPart(leaves, None)], 30.0, None))[1] == pytest.approx(
        3.4741, abs=5e-5
    )


@draws(60)
@given(
    st.integers(1, 500),
    st.integers(35, 90),
    st.integers(8, 24),
    st.integers(5, 50),
    st.integers(40, 200),
    st.integers(25, 38),
)
def test_two_stuffs_meet_the_ratio(mass: int, wet: int, low: int, dry: int, high: int, aim: int) -> None:
    """Between a low and a high C:N the aim is met, and twice the one takes twice the other."""
    green, brown = stuff("green", wet / 100, 0.03, low), stuff("brown", dry / 100, 0.006, high)
    one = blend([BlendPart(green, float(mass)), BlendPart(brown, None)], float(aim), None)
    two = blend([BlendPart(green, 2.0 * mass), BlendPart(brown, None)], float(aim), None)
    assert one.recipe.cn == pytest.approx(aim)
    assert masses(two) == pytest.approx([2 * part for part in masses(one)])


@draws(40)
@given(st.integers(1, 500), st.integers(1, 500), st.integers(30, 80))
def test_water_changes_moisture_alone(manure: int, straw: int, percent: int) -> None:
    """With every amount given, water comes up to the moisture aimed for and leaves the C:N as it is."""
    given = [BlendPart(MANURE, float(manure)), BlendPart(STRAW, float(straw))]
    dry, wet = blend(given, None, None), blend(given, None, percent / 100)
    assert wet.recipe.cn == pytest.approx(dry.recipe.cn)
    assert wet.recipe.moisture == pytest.approx(max(dry.recipe.moisture, percent / 100))
    assert masses(wet) == masses(dry)


@pytest.mark.parametrize(
    ("words", "own", "mass"),
    [
        ("12 kg straw", [], 12.0),
        ("0.5 t horse manure", [], 500.0),
        ("2 lb of straw", [], 0.90718474),
        ("100 L grass clippings", [], 30.0),
        ("3 bucket grass clippings", [], 9.0),
        ("3 buckets grass clippings", ["bucket=12 L"], 10.8),
        ("2 crate straw", ["crate = 5 kg"], 10.0),
        ("1 barrow arborist chip", [], 0.08 * 280),
        ("10 L coffee grounds", [], 5.0),
    ],
)
def test_amounts_in_words(words: str, own: Sequence[str], mass: float) -> None:
    """Amounts are read in any unit and the grower's own; 500 kg/m3 stands in for a density not known."""
    found, warnings = read_wanted([words], own)
    assert found[0].mass == pytest.approx(mass)
    assert bool(warnings) is ("coffee" in words)


@pytest.mark.parametrize(
    "words",
    [
        "",
        "12",
        "12 bucket",
        "bucket straw of 12",
        "-3 kg straw",
        "0 kg straw",
        "3 m straw",
        "3 kg strow",
        "1,5 kg straw",
    ],
)
def test_words_that_are_no_amount(words: str) -> None:
    """What is not an amount and a known material is refused, in words."""
    with pytest.raises(WrongUse):
        read_wanted([words], [])


@pytest.mark.parametrize("text", ["60 %", "0.6", "600 g/kg"])
def test_a_moisture_in_words(text: str) -> None:
    """A moisture aimed for is a share; a bare number is none."""
    if text == "0.6":
        with pytest.raises(WrongUse):
            read_share(text)
    else:
        assert read_share(text) == pytest.approx(0.6)


Run = Callable[[list[str]], tuple[int, str, str]]


@pytest.mark.parametrize(
    ("words", "code"),
    [
        (["--of", "10 kg grass clippings", "--of", "straw", "--to-cn", "30"], 0),
        (["--of", "10 kg straw", "--of", "sawdust", "--to-cn", "30"], 3),
        (["--of", "10 kg straw", "--of", "sawdust", "--to-moisture", "60 %"], 3),
        (["--of", "grass clippings", "--to-cn", "30"], 2),
        (["--of", "10 kg grass clippings", "--of", "straw", "--of", "sawdust", "--to-cn", "30"], 2),
        (["--to-cn", "30"], 2),
    ],
)
def test_the_command(capfdbinary: pytest.CaptureFixture[bytes], words: list[str], code: int) -> None:
    """A blend that can be made is printed; one that cannot is told and ends with 3, wrong use with 2."""
    found = exit_code(["heap", *words, "--format", "json"])
    out, err = capfdbinary.readouterr()
    assert found == code
    assert bool(out) is (code == 0)
    assert bool(err) or code == 0
    if code == 0:
        total = json.loads(out)["tables"][0]["rows"][-1]
        assert total["cn_ratio"] == pytest.approx(30)


def test_too_wet_is_mended_by_what_is_named() -> None:
    """A blend too wet for its aim says how much of what dry stuff brings it there; with that it is there."""
    scraps = read_wanted(["100 kg vegetable scraps"], [])[0]
    made = blend(scraps, None, 0.60)
    [told] = [sentence for sentence in made.sentences if sentence.startswith("Too wet")]
    match = re.search(r"; ([0-9.]+) kg of ([a-z ]+) brings it there, at a C:N of ([0-9]+)\.$", told)
    assert match is not None
    added = read_wanted([f"{match[1]} kg {match[2]}"], [])[0]
    both = blend([*scraps, *added], None, None)
    assert both.recipe.moisture == pytest.approx(0.60, abs=0.002)
    assert both.recipe.cn == pytest.approx(float(match[3]), abs=0.6)


def test_a_blend_over_a_ceiling_says_so() -> None:
    """Half coffee by volume, with straw, is over the fifth that good practice has; a tenth is not."""
    for litres, over in (("500 L", True), ("50 L", False)):
        parts, _ = read_wanted([f"{litres} coffee grounds", "500 L straw"], [])
        sentences = blend(parts, None, None).sentences
        assert any("no more than 20% by volume (heap_share)" in one for one in sentences) is over


FIELD = """
site: Field
currency: EUR
start: 2027-03-01
measures: {scoop: 20 L}
places: []
materials:
  my grounds: {like: coffee grounds, density: 400 kg/m3, nitrogen: 3 %}
  straw: {density: 100 kg/m3}
"""


def test_a_site_brings_its_own_stuff_and_measures(tmp_path: Path) -> None:
    """With a site its materials and measures are known; without it they are not, and the hint names them."""
    site = tmp_path / "field.yaml"
    site.write_text(FIELD, encoding="utf-8")
    words = ["--of", "3 scoop my grounds", "--of", "10 scoop straw", "--format", "json"]
    done = CliRunner().invoke(command, [str(site), *words])
    rows = {row["material"]: row for row in json.loads(done.stdout)["tables"][0]["rows"]}
    assert rows["my grounds"]["mass_kg"] == pytest.approx(0.06 * 400)
    assert rows["my grounds"]["nitrogen_g"] == pytest.approx(0.06 * 400 * 0.4 * 0.03 * 1000)
    assert rows["straw"]["mass_kg"] == pytest.approx(0.2 * 100)
    with pytest.raises(WrongUse, match="is not a material of the catalogue"):
        read_wanted(["3 kg my grounds"], [])
    own = load(FIELD.encode(), "field.yaml")
    with pytest.raises(WrongUse, match=r'is not a material of the site file or the catalogue.*"my grounds"'):
        read_wanted(["3 kg my ground"], [], Known(own.site.materials, own.measures))


def test_recipes_of_every_batch(tmp_path: Path) -> None:
    """--recipes gives each batch's lines, which add up to its total, put back no more than goes in."""
    site = tmp_path / "field.yaml"
    ways = (
        "ways: [{name: hot, make: {bay: 1 m3, from: [{material: arborist chip, volume: 3 m3},"
        " {material: grass clippings, weekly: 200 L}, {material: straw, weekly: 200 L}]}}]"
    )
    site.write_text(FIELD + ways, encoding="utf-8")
    done = CliRunner().invoke(command, [str(site), "--recipes", "--format", "json"])
    tables = {table["name"]: table["rows"] for table in json.loads(done.stdout)["tables"]}
    assert len(tables["batches"]) > 1
    for number, batch in enumerate(tables["batches"], start=1):
        lines = [row for row in tables["recipes"] if row["batch"] == number]
        parts = [row for row in lines if row["material"] not in {"total", "water"}]
        (total,) = [row for row in lines if row["material"] == "total"]
        assert {row["built_on"] for row in lines} == {batch["built_on"]}
        assert sum(row["volume_m3"] for row in parts) == pytest.approx(total["volume_m3"])
        assert total["volume_m3"] == pytest.approx(batch["volume_m3"])
        assert all(0 <= row["put_back_kg"] <= row["mass_kg"] + 1e-6 for row in parts)
    assert any(row["put_back_kg"] for row in tables["recipes"] if row["put_back_kg"] is not None)
    refused = CliRunner().invoke(command, [str(site), "--recipes", "--of", "3 kg straw"])
    assert refused.exit_code == 2
    assert "--recipes is for the batches of a site" in refused.stderr
