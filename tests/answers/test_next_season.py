"""The next season's file: a plan that was followed to its end leaves the needs at nothing to do."""

from __future__ import annotations

import json
from datetime import date, timedelta
from functools import cache
from pathlib import Path

import pytest
import yaml

from barrowful.answers.orders import decide
from barrowful.cli.begin import begun
from barrowful.measures.dates import Step
from barrowful.needs.decision import Serving
from barrowful.needs.layers import Layers
from barrowful.needs.registry import NEEDS, serve
from barrowful.needs.registry import decide as decide_need
from barrowful.needs.settled import Settled
from barrowful.site.load import load
from barrowful.site.records import Site
from barrowful.sitefile.text.append import append_history
from barrowful.soil.application import Application
from barrowful.soil.history import layer
from barrowful.supplies.registry import supplies

DEMOS = sorted((Path(__file__).parents[2] / "demo").glob("*.yaml"))
#: A cover may be due so soon after the start that what has to be ordered is late for the start.
MONTHS = timedelta(days=45)
#: A site of our own, its lines below each other: every kind of need, one of them without a date.
OURS = """\
# our own ground
site: Round Hill   # by hand
currency: EUR
start: 2027-03-01
horizon: 3 years
climate: {annual_mean: 11 degC, first_frost: 11-01}
places:
  - name: beds      # the long ones
    kind: bed
    shape: {area: 24 m2}
    soil:
      organic_matter: 2.5 %
      bulk_density: 1.3 g/cm3
      clay: 20 %
      ph: 5.9
    needs:
      # raised first
      - raise: {organic_matter: 2.9 %, depth: 15 cm}
      - feed: {nitrogen: 6 g/m2}
      - lime: {ph: 6.4}
  - name: frames
    kind: bed
    shape: {area: 6 m2}
    needs: [{dress: {depth: 2 cm, dug: true}}]
  - name: trees
    kind: tree
    shape: {ring: {radius: 1 m, collar: 10 cm}}
    count: 5
    layer_now: 1 cm
    needs:
      - cover: {depth: 7 cm}
ways:
  - {name: yard, buy: {material: green compost, price: 40 EUR/m3}}
  - {name: crew, buy: {material: arborist chip, price: 9 EUR/m3}}
  - {name: meal, buy: {material: feather meal, price: 40 EUR/bag, bag: 20 kg}}
  - {name: stone, buy: {material: ground limestone, price: 7 EUR/bag, bag: 25 kg}}
plan:
  - {place: frames, need: dress, way: yard}
history: []
"""


def text_of(name: str) -> str:
    """Return the text of a demo, or of the site of our own."""
    return next((path.read_text(encoding="utf-8") for path in DEMOS if path.stem == name), OURS)


@cache
def doses_of(name: str) -> tuple[Application, ...]:
    """Return all that is followed on a site, first to last; our own without the one line of its plan."""
    text = text_of(name).replace("plan:\n  - {place: frames, need: dress, way: yard}\n", "")
    chosen = decide(load(text.encode(), name).site)
    return tuple(sorted(chosen.whole.together.all_doses, key=lambda dose: (dose.day, dose.place.name)))


def logged(text: str, doses: tuple[Application, ...], until: date) -> str:
    """Return a site's text with each dose before a day in its history, as ``log`` writes it."""
    for dose in doses:
        if dose.day < until:
            entry = {"date": dose.day.isoformat(), "place": dose.place.name, "way": dose.way}
            entry |= {"amount": f"{dose.loose:.9f} m3", "dug": str(dose.dug).lower()}
            text = append_history(text, entry)
    return text


@cache
def next_site(name: str, years: int) -> tuple[Site, Site, str, str]:
    """Return a site followed for so many years, that of the next season, and the text of each."""
    site = load(text_of(name).encode(), name).site
    day = Step(months=12 * years).after(site.start)
    old = logged(text_of(name), doses_of(name), day)
    new, _ = begun(old.encode(), name, day.isoformat())
    return load(old.encode(), name).site, load(new, name).site, old, new.decode()


def servings(site: Site, kind: str) -> dict[tuple[str, str], Serving]:
    """Return what each place with a kind of need would get of each way that was used for it, by names."""
    ways, beside = supplies(site), Settled(site)
    return {
        (place.name, way): serve(site, kind, place, supply, beside.branch())
        for place in site.places_with(kind)
        for way, supply in ways.items()
        if any(entry.place == place.name and entry.way == way for entry in site.history)
    }


ENDS = [
    *(
        (path.stem, {"crooked-ladle-orchard": 4, "dry-thimble-terraces": 4}.get(path.stem, 3))
        for path in DEMOS
    )
]


@pytest.mark.parametrize(("name", "years"), [*ENDS, ("ours", 3)])
def test_a_plan_followed_to_its_end_leaves_nothing_to_do(name: str, years: int) -> None:
    """Dresses and fills go, and raises held to their end; of the rest only the season's feed is brought at once."""
    old, new, _, _ = next_site(name, years)
    assert len(new.history) > len(load(text_of(name).encode(), name).site.history)
    assert not [place.name for place in new.places if place.need("dress") or place.need("fill")]
    assert not [place.name for place in new.places if place.need("lime")]
    for kind in ("cover", "raise"):
        met = {place: serving for (place, _), serving in servings(new, kind).items() if not serving.why_not}
        assert set(met) == {place.name for place in new.places_with(kind)}
        for place, serving in met.items():  # what takes weeks to come may be due by then
            assert [dose for dose in serving.doses if dose.day <= new.start + MONTHS] == [], place
    assert {place.name for place in new.places_with("feed")} == {
        place.name for place in old.places_with("feed")
    }
    assert {place.name for place in new.places_with("cover")} == {
        place.name for place in old.places_with("cover")
    }


@pytest.mark.parametrize("name", ["crooked-ladle-orchard", "ours"])
def test_a_raise_goes_on_as_it_was(name: str) -> None:
    """A year later a raise keeps its target and its day, and what was dug in counts on as if nothing had begun."""
    old, new, _, _ = next_site(name, 1)
    for before, after in zip(old.places, new.places, strict=True):
        had, has = before.need("raise"), after.need("raise")
        if had is None:
            continue
        assert has is not None
        assert (has.organic_matter, has.depth) == (had.organic_matter, had.depth)  # type: ignore[attr-defined]
        doses = [dose for dose in doses_of(name) if dose.day >= new.start and dose.place.name == after.name]
        assert NEEDS["raise"].judge(new, after, doses).why_not == "", name


def test_the_layer_that_lies_is_written() -> None:
    """A layer that was stated is what is left of it and of what was put on it; without one the history tells it."""
    old, new, _, _ = next_site("ours", 1)
    chip = old.way("crew").material
    layers = [Layers(site, site.place("trees"), (), chip).on(new.start.toordinal()) for site in (old, new)]
    assert layers[0] == pytest.approx(layers[1], rel=1e-3)
    assert new.place("trees").layer_now > 0.05


def test_a_dress_done_in_part_is_less() -> None:
    """Of 2 cm of which 0.5 cm was dug in 1.5 cm are left; what went on top is no part of it."""
    text = append_history(OURS, {"date": "2027-04-01", "place": "frames", "way": "yard", "amount": "30 L"})
    text = text.replace("amount: 30 L", "amount: 30 L, dug: true")
    text = append_history(text, {"date": "2027-04-02", "place": "frames", "way": "crew", "depth": "4 cm"})
    new = load(begun(text.encode(), "x", "2027-06-01")[0], "x").site
    [dress] = new.place("frames").needs
    assert dress.depth == pytest.approx(0.015)  # type: ignore[attr-defined]
    assert new.plan == ()


@pytest.mark.parametrize(
    ("count", "share", "gone", "told"),
    [
        (
            6,
            5 / 6,
            False,
            "83% of the dress was put on, as much as for 5 of 6; what is left of it stands in the new file, asked of"
            " all 6",
        ),
        (6, 0.92, True, "92% of the dress was put on, as much as for 5.5 of 6; that is taken as all of it"),
        (1, 0.92, True, "92% of the dress was put on; that is taken as all of it"),
        (1, 0.5, False, "50% of the dress was put on; what is left of it stands in the new file"),
        (6, 1.0, True, ""),
    ],
)
def test_a_need_that_goes_or_is_shared_anew_is_told(count: int, share: float, gone: bool, told: str) -> None:
    """Of six beds one may have had none: nothing says which, so what becomes of the rest is told."""
    text = OURS.replace("shape: {area: 6 m2}", f"shape: {{area: 6 m2}}\n    count: {count}")
    loose = share * 0.02 * 6 * count
    entry = {"date": "2027-04-01", "place": "frames", "way": "yard", "amount": f"{loose:.6f} m3"}
    new, notes = begun(append_history(text, {**entry, "dug": "true"}).encode(), "x", "2027-06-01")
    assert (load(new, "x").site.place("frames").needs == ()) is gone
    named = [note for note in notes if note.startswith("frames: the dress is done and left out")]
    assert bool(named) is gone
    frames = [note for note in notes if note.startswith("frames: ") and note not in named]
    assert [note.startswith(f"frames: {told}") for note in frames] == ([True] if told else [])


def test_what_was_dug_in_stays_so() -> None:
    """Where only a need that goes told that it was dug in, the history says so from then on."""
    entry = {"date": "2027-04-01", "place": "frames", "way": "yard", "amount": "120 L"}
    text = append_history(OURS.replace("history: []", ""), entry | {"date": "2027-04-02", "dug": "false"})
    text = append_history(append_history(text, entry), entry | {"date": "2027-04-01", "place": "beds"})
    new, _ = begun(text.encode(), "x", "2027-06-01")
    site = load(new, "x").site
    assert site.place("frames").need("dress") is None
    assert [(entry.place, entry.dug) for entry in site.history] == [
        ("frames", True),
        ("beds", None),
        ("frames", False),
    ]


TUBS = """\
site: Tub Yard
currency: EUR
start: 2027-03-01
horizon: 3 years
climate: {annual_mean: 11 degC}
places:
  - name: tubs
    kind: pot
    shape: {area: 1 m2}
    needs: [{fill: {depth: 50 cm}}, {cover: {depth: 5 cm}}]
  - {name: bed, kind: bed, shape: {area: 9 m2}, needs: [{cover: {depth: 5 cm}}]}
ways:
  - {name: loam, buy: {material: topsoil, price: 30 EUR/m3}}
  - {name: yard, buy: {material: green compost, price: 40 EUR/m3}}
  - {name: crew, buy: {material: arborist chip, price: 9 EUR/m3}}
history:
  - {date: 2027-04-01, place: tubs, way: loam, amount: 380 L}
  - {date: 2027-04-01, place: tubs, way: yard, amount: 195 L, job: our own mix}
  - {date: 2027-04-02, place: tubs, way: crew, amount: 20 L}
  - {date: 2027-04-02, place: bed, way: yard, amount: 100 L}
"""


def test_what_filled_a_place_is_no_mulch_next_year() -> None:
    """Its job says that it filled the place once the need is gone; a cover there is laid as on bare ground."""
    new, _ = next_of(TUBS, "2028-03-01")
    assert [entry.job for entry in new.history] == ["fill", "fill, our own mix", "", ""]
    assert not load(begun(TUBS.encode(), "x", "2028-03-01")[0], "x").warnings
    assert layer(new, new.place("tubs")) == pytest.approx(0.02, abs=0.01)
    assert layer(new, new.place("bed")) > 0
    cover = serve(new, "cover", new.place("tubs"), supplies(new)["crew"], Settled(new))
    assert sum(dose.loose for dose in cover.doses) > 0.02
    _, again = next_of(begun(TUBS.encode(), "x", "2028-03-01")[0].decode(), "2029-03-01")
    assert "tubs" not in again


def test_a_fill_of_half_a_season_ago_counts_as_one_still() -> None:
    """What a part of it was put on is told by its job too, so that the rest is asked for and no mulch lies."""
    half = TUBS.replace("amount: 380 L", "amount: 100 L").replace("amount: 195 L", "amount: 50 L")
    new, _ = next_of(half, "2028-03-01")
    assert 0.3 < new.place("tubs").need("fill").depth < 0.4  # type: ignore[union-attr]
    assert [entry.job[:4] for entry in new.history] == ["fill", "fill", "", ""]
    assert layer(new, new.place("tubs")) < 0.03


def test_the_words_of_the_grower_stay() -> None:
    """Lines that nothing is changed on are the same, comments and all; the old text is a part of the new one."""
    _, _, old, new = next_site("ours", 1)
    gone = set(old.splitlines()) - set(new.splitlines())
    assert gone == {
        "start: 2027-03-01",
        "      - raise: {organic_matter: 2.9 %, depth: 15 cm}",
        "      - lime: {ph: 6.4}",
        "    needs: [{dress: {depth: 2 cm, dug: true}}]",
        "    layer_now: 1 cm",
        "plan:",
        "  - {place: frames, need: dress, way: yard}",
    }
    assert "      tested: 2027-02-28" in new


def test_any_shape_of_a_file() -> None:
    """The same site as JSON on one line, and as the plainest YAML, begins the same season."""
    _, new, old, _ = next_site("ours", 1)
    data = yaml.load(old, yaml.BaseLoader)
    for text in (json.dumps(data), yaml.safe_dump(data, sort_keys=False), old.replace("\n", "\r\n")):
        other, _ = begun(text.encode(), "x", new.start.isoformat())
        assert load(other, "x").site == new


def test_seasons_one_after_another() -> None:
    """Begun anew each year, a plan that is followed ends where it ends when it is followed in one go."""
    text, doses, start = (
        OURS.replace("plan:\n  - {place: frames, need: dress, way: yard}\n", ""),
        doses_of("ours"),
        2027,
    )
    for year in (1, 2, 3):
        since, until = date(start + year - 1, 3, 1), date(start + year, 3, 1)
        text = logged(text, tuple(dose for dose in doses if dose.day >= since), until)
        text = begun(text.encode(), "x", until.isoformat())[0].decode()
    at_once, stepped = next_site("ours", 3)[1], load(text.encode(), "x").site
    assert [place.needs for place in stepped.places] == [place.needs for place in at_once.places]
    assert stepped.place("trees").layer_now == pytest.approx(at_once.place("trees").layer_now, rel=2e-3)


@pytest.mark.parametrize(
    ("share", "day", "by", "told"),
    [
        (1.0, "2028-05-31", "2028-07-12", "it says by: 2028-07-12, hold: 597 days"),
        (1.0, "2031-05-31", "gone", ""),
        (0.97, "2031-05-31", "gone", "of the raise is there; that is taken as all of it"),
        (0.5, "2028-05-31", None, "of the raise is there"),
        (0.5, "2031-05-31", None, "of the raise is there"),
    ],
)
def test_a_raise_that_is_due(share: float, day: str, by: str | None, told: str) -> None:
    """Reached it is held for what is left of its time, and goes then; short of it it waits for a new day."""
    text = OURS.replace("depth: 15 cm}", "depth: 15 cm, by: 2028-03-01, hold: 2 years}")
    site = load(text.encode(), "x").site
    decided = decide_need(site, "raise", site.places_with("raise"), supplies(site)["yard"])
    for dose in decided.every_dose:
        entry = {"date": dose.day.isoformat(), "place": "beds", "way": "yard", "dug": "true"}
        entry["amount"] = f"{share * dose.loose:.9f} m3"
        text = append_history(text, entry) if dose.day.isoformat() < day else text
    new, notes = begun(text.encode(), "x", day)
    need = load(new, "x").site.place("beds").need("raise")
    assert told in " ".join(notes)
    assert (need is None) is (by == "gone")
    assert need is None or need.by == (by and date.fromisoformat(by))  # type: ignore[attr-defined]


def next_of(text: str, day: str) -> tuple[Site, str]:
    """Return the site of the season from a day on, and the notes."""
    new, notes = begun(text.encode(), "x", day)
    return load(new, "x").site, "\n".join(notes)


def with_entries(text: str, *entries: str) -> str:
    """Return a site's text with entries in its history, each a day, a way, an amount and more as YAML has it."""
    return text.replace("history: []", "history:\n" + "".join(f"  - {{{entry}}}\n" for entry in entries))


CAME = "date: 2027-04-01, way: meal, job: delivery, amount: 2 bag"
FED = "date: 2027-04-02, place: beds, way: meal, amount: 13 kg"


def left_of(site: Site, way: str) -> float:
    """Return the volume [m3] that is left of a way at the start."""
    return supplies(site)[way].lies_there


def test_what_is_left_of_a_delivery_is_carried_on() -> None:
    """Of 40 kg that came 13 kg went on: 27 kg are written, by weight as it is sold, and the next orders use them."""
    new, notes = next_of(with_entries(OURS, CAME, FED), "2028-03-01")
    meal = new.way("meal")
    assert meal.left.mass == pytest.approx(27)  # type: ignore[attr-defined]
    assert "meal" not in notes
    spoilt = "date: 2027-05-01, way: meal, amount: 7 kg, note: wet"
    collected = CAME.replace("delivery", "'collected, meal'")
    new, _ = next_of(with_entries(OURS, collected, FED, spoilt), "2028-03-01")
    assert new.way("meal").left.mass == pytest.approx(20)  # type: ignore[attr-defined]
    late = CAME.replace("2027-04-01", "2027-04-03")  # logged after some of it was put on
    new, notes = next_of(with_entries(OURS, FED, late), "2028-03-01")
    assert new.way("meal").left.mass == pytest.approx(27)  # type: ignore[attr-defined]
    assert "meal" not in notes


def test_what_is_left_goes_from_season_to_season() -> None:
    """What is not used stays as it is; what is used up is written no more; after three years (1100 days) none is left."""
    first = begun(with_entries(OURS, CAME, FED).encode(), "x", "2028-03-01")[0].decode()
    assert "left: 27 kg" in begun(first.encode(), "x", "2030-04-05")[0].decode()
    assert "left:" not in begun(first.encode(), "x", "2030-04-06")[0].decode()
    assert "meal: 40 kg is left out as too old" in next_of(with_entries(OURS, CAME), "2030-06-01")[1]
    more = append_history(
        first, {"date": "2028-04-02", "place": "beds", "way": "meal", "amount": "27 kg", "dug": "true"}
    )
    assert "left:" not in begun(more.encode(), "x", "2029-03-01")[0].decode()
    late, _ = next_of(with_entries(OURS, CAME, FED), "2030-05-10")
    assert left_of(late, "meal") == 0


def test_less_than_a_file_takes_is_not_left() -> None:
    """Of 60 sacks a hundredth of a millilitre is left by rounding: none is written, and the file is sound."""
    pile = "  - {name: stalks, have: {material: straw, amount: 5.4 m3, per_year: true}}\nplan:"
    text = OURS.replace("plan:", pile)
    used = "date: 2027-04-02, place: trees, way: stalks, amount: 5399.99999 L"
    site, _ = next_of(with_entries(text, used), "2028-03-01")
    assert site.way("stalks").left is None  # type: ignore[attr-defined]


def test_a_delivery_by_the_name_of_its_job_is_of_its_way() -> None:
    """A delivery that is logged as the season names it, without its way, is one of that way."""
    named = "date: 2027-04-01, job: 'delivery, meal, 1', amount: 40 kg"
    new, _ = next_of(with_entries(OURS, named, FED), "2028-03-01")
    assert new.way("meal").left.mass == pytest.approx(27)  # type: ignore[attr-defined]


@pytest.mark.parametrize("job", ["order", "Ordered by telephone", "'order, meal, 1'", "ask"])
def test_an_order_takes_nothing_of_what_came(job: str) -> None:
    """An order that is logged with its amount, beside its delivery, was never put on or used."""
    ordered = f"date: 2027-03-20, way: meal, job: {job}, amount: 40 kg, cash: 20 EUR"
    came = "date: 2027-04-01, job: delivery, way: meal, amount: 40 kg"
    new, told = next_of(with_entries(OURS, ordered, came, FED), "2028-03-01")
    assert new.way("meal").left.mass == pytest.approx(27)  # type: ignore[attr-defined]
    assert "more was put on" not in told


@pytest.mark.parametrize(
    ("entries", "says"),
    [
        ([FED], "13 kg more was put on than the history has as brought; if 1 bag came, 7 kg may lie there"),
        ([FED.replace("meal, amount: 13 kg", "yard, amount: 1 m3")], ""),
        ([CAME, FED.replace("13 kg", "42 kg")], ""),
        ([CAME, FED.replace("13 kg", "50 kg")], "10 kg more was put on"),
    ],
)
def test_what_is_not_known_to_be_left_is_told(entries: list[str], says: str) -> None:
    """Where the history has no delivery of it nothing is made up: what may lie there is told, with how it is written."""
    new, notes = next_of(with_entries(OURS, *entries), "2028-03-01")
    assert [left_of(new, way) for way in ("yard", "meal")] == [0, 0]
    assert (says in notes) if says else ("may lie there" not in notes)


def test_that_no_more_comes_is_told() -> None:
    """The next season would order of it again: a note says that it ended, until more of it came."""
    ends = "date: 2027-05-01, way: meal, job: delivery, amount: 0 kg"
    told = "no more of it came on 2027-05-01; where none comes again, take the way out"
    notes = next_of(with_entries(OURS, CAME, FED, ends), "2028-03-01")[1]
    assert f"meal: {told}" in notes
    assert told not in next_of(with_entries(OURS, ends, CAME.replace("04-01", "05-02")), "2028-03-01")[1]


def test_a_delivery_without_its_amount_is_told() -> None:
    """Of what came nobody knows how much nothing is written; a note says so."""
    new, notes = next_of(with_entries(OURS, "date: 2027-04-01, way: meal, job: delivery"), "2028-03-01")
    assert left_of(new, "meal") == 0
    assert "meal: how much came on 2027-04-01 is not in the history; look what is left" in notes


def test_what_a_heap_took_is_not_known() -> None:
    """Where a heap was built of it, what is left is told and not written; an entry of what it took tells it."""
    heap = "  - {name: heap, make: {bay: 1 m3, from: [{way: crew}, {material: coffee grounds, weekly: 60 kg}]}}\n"
    text = OURS.replace("plan:\n", heap + "plan:\n")
    came, built = "date: 2027-04-01, way: crew, job: delivery, amount: 3 m3", "way: heap, job: built"
    new, notes = next_of(with_entries(text, came, f"date: 2027-05-01, {built}"), "2028-03-01")
    assert left_of(new, "crew") == 0
    assert "crew: 3 m3 of it is left less what heap took; measure it" in notes
    took = "date: 2027-05-01, way: crew, amount: 1 m3"
    new, notes = next_of(with_entries(text, came, f"date: 2027-05-01, {built}", took), "2028-03-01")
    assert left_of(new, "crew") == pytest.approx(2)
    assert "crew" not in notes


def test_what_is_done_and_goes_is_told() -> None:
    """A dress that goes is named, with how it comes again; of one done in part it is told that the rest stands."""
    entry = "date: 2027-04-01, place: frames, way: yard, dug: true, amount: "
    _, notes = next_of(with_entries(OURS, f"{entry}120 L"), "2028-03-01")
    assert "frames: the dress is done and left out; write it again under needs" in notes
    _, notes = next_of(with_entries(OURS, f"{entry}30 L"), "2028-03-01")
    assert "frames: 25% of the dress was put on; what is left of it stands in the new file" in notes


@pytest.mark.parametrize(("day", "age"), [("2028-03-01", 5), ("2027-09-01", 4.5), ("2030-03-01", 7)])
def test_trees_grow_older(day: str, age: float) -> None:
    """A tree that is fed by its age is as much older as the new start is later."""
    text = OURS.replace(
        "- cover: {depth: 7 cm}", "- feed: {for: citrus, age: 4 years}\n      - cover: {depth: 7 cm}"
    )
    new, _ = next_of(text, day)
    need = new.place("trees").need("feed")
    assert need is not None
    assert need.age == pytest.approx(age, abs=0.01)  # type: ignore[attr-defined]


def test_a_trunk_is_to_be_measured() -> None:
    """How thick a trunk is by then nobody knows: its need stays, and a note asks for it."""
    fed = "- feed: {for: apple, trunk: 6 cm}\n      - cover: {depth: 7 cm}"
    _, notes = next_of(OURS.replace("- cover: {depth: 7 cm}", fed), "2028-03-01")
    assert "trees: the trunk may be thicker by now; measure it" in notes


def test_a_new_bed_is_new_once() -> None:
    """A bed on which something was put is no longer being made; one on which nothing was still is."""
    text = OURS.replace("  - name: frames\n", "  - name: frames\n    new: true\n")
    assert next_of(text, "2028-03-01")[0].place("frames").new
    made = "date: 2027-04-01, place: frames, way: yard, dug: true, amount: 120 L"
    assert not next_of(with_entries(text, made), "2028-03-01")[0].place("frames").new


#: Beds that take all the leaf mould the ceilings let on in a year to be raised, and a little more a year on.
STOCK = """\
site: Long Lane
currency: EUR
start: 2027-02-01
horizon: 2 years
climate: {annual_mean: 10 degC}
soil: {organic_matter: 3 %, bulk_density: 1.27 g/cm3, tested: 2026-10-10}
places:
  - name: beds
    kind: bed
    shape: {area: 14.4 m2}
    needs: [{raise: {organic_matter: 4 %, depth: 20 cm, by: 2027-06-15}}]
ways:
  - {name: leaves, have: {material: leaf mould, amount: 510 L}}
"""


@pytest.mark.parametrize("late", [0, 2, 20])
def test_a_raise_that_was_followed_is_still_met(late: int) -> None:
    """Put on some days late, a year's ceiling opens as late: the raise is held on with what goes on then."""
    site = load(STOCK.encode(), "x").site
    decided = decide_need(site, "raise", site.places, supplies(site)["leaves"])
    assert decided.feasible
    first, *later = decided.every_dose
    assert first.day == site.start
    assert later
    day = first.day + timedelta(days=late)
    entry = {"date": day.isoformat(), "place": "beds", "way": "leaves", "amount": f"{first.loose:.9f} m3"}
    new, notes = next_of(append_history(STOCK, entry | {"dug": "true"}), "2028-02-01")
    assert (
        "beds: the raise is reached; to be held to 2028-06-15 it says by: 2028-03-14, hold: 93 days" in notes
    )
    after = decide_need(new, "raise", new.places, supplies(new)["leaves"])
    assert after.feasible
    assert [dose.day - timedelta(days=late) for dose in after.every_dose] == [new.start]


def test_a_soil_test_tells_how_much_of_a_raise_is_there() -> None:
    """Where nothing was dug in, what a test found counts: 2.8 % of a rise from 2 to 3 % is four fifths."""
    text = (
        "{site: A, currency: EUR, start: 2027-03-01, soil: {organic_matter: 2 %, bulk_density: 1.3 g/cm3,"
        " tested: 2027-01-10}, places: [{name: bed, kind: bed, shape: {area: 9 m2}, needs: [{raise: {organic_matter:"
        " 3 %, depth: 15 cm, by: 2027-09-01}}]}], ways: [], history: [{date: 2027-08-01, place: bed, organic_matter:"
        " 2.8 %}]}"
    )
    _, notes = next_of(text, "2028-03-01")
    assert "bed: 80% of the raise is there" in notes
