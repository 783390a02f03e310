"""No dose the tool chooses breaks a ceiling in any twelve months: by plain sums, on sites drawn at random."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from datetime import date, timedelta
from typing import Any

from draws import draws
from hypothesis import given
from hypothesis import strategies as st

from barrowful.answers.choices import cheapest
from barrowful.answers.options import options
from barrowful.measures.dates import Step
from barrowful.site.records import Place, Site
from barrowful.soil.application import Application
from barrowful.soil.history import done

SiteOf = Callable[..., Site]
Describe = Callable[..., dict[str, Any]]
START, AREA = date(2027, 3, 1), 10.0
#: Stuff of many kinds, in words over those of dark compost.
STUFF: dict[str, dict[str, Any]] = {
    "compost": {},
    "quick": {"nitrogen": "2 %", "available_nitrogen": "60 %"},
    "dung": {"like": "cattle manure"},
    "spent": {"like": "mushroom compost"},
    "chip": {"class": "wood"},
    "stalks": {"class": "straw", "density": "60 kg/m3"},
    "ash": {"like": "wood ash"},
}
#: Settled depth [mm] that a cover of each may be; none for manure and ash, which do not cover.
COVERS = {"compost": 50, "quick": 50, "spent": 25, "chip": 100, "stalks": 100}


@st.composite
def drawn_needs(draw: st.DrawFn) -> list[dict[str, Any]]:
    """Draw the needs of a place, one at least."""
    needs: list[dict[str, Any]] = []
    if draw(st.booleans()):
        words = {"organic_matter": f"{draw(st.integers(21, 60)) / 10} %", "depth": "15 cm"}
        needs.append({"raise": {**words, "by": f"{draw(st.integers(2028, 2030))}-04-01"}})
    if draw(st.booleans()):
        needs.append({"dress": {"depth": f"{draw(st.integers(1, 120))} mm", "dug": draw(st.booleans())}})
    if draw(st.booleans()):
        needs.append({"cover": {"depth": f"{draw(st.integers(5, 150))} mm"}})
    if not needs or draw(st.booleans()):
        feed = {"for": draw(st.sampled_from(["cabbage", "carrot", "leek"]))}
        if draw(st.booleans()):
            feed["nitrogen"] = f"{draw(st.integers(1, 30))} g/m2"
        needs.append({"feed": feed})
    return needs


@st.composite
def drawn_sites(draw: st.DrawFn) -> dict[str, Any]:
    """Draw a site: a place with needs, a history, limits and two ways."""
    entries = [
        {
            "date": f"{START - timedelta(draw(st.integers(1, 500)))}",
            "place": "bed",
            "material": draw(st.sampled_from(["compost", "dung"])),
            "amount": f"{draw(st.integers(1, 40)) / 100} m3",
            "dug": True,
        }
        for _ in range(draw(st.integers(0, 3)))
    ]
    limits: dict[str, Any] = {"farm": draw(st.booleans())}
    if draw(st.booleans()):
        limits["nitrogen"] = f"{draw(st.integers(5, 40))} g/m2"
    if draw(st.booleans()):
        limits["depth_per_year"] = f"{draw(st.integers(5, 60))} mm"
    place = {
        "kind": draw(st.sampled_from(["bed", "tree"])),
        "new": draw(st.booleans()),
        "limits": limits,
        "soil": {"phosphorus_test": draw(st.sampled_from(["low", "high", "very high"]))},
        "eaten_raw": draw(st.booleans()),
    }
    if draw(st.booleans()):
        place["harvest_from"] = f"{draw(st.integers(3, 9)):02}-15"
    names = draw(st.lists(st.sampled_from(sorted(STUFF)), min_size=1, max_size=3, unique=True))
    ways = []
    for name in names:
        if draw(st.booleans()):
            ways.append({"name": f"buy {name}", "buy": {"material": name, "price": "40 EUR/m3"}})
        else:
            amount = f"{draw(st.integers(5, 200)) / 100} m3"
            yearly = draw(st.booleans())
            ways.append(
                {"name": f"have {name}", "have": {"material": name, "amount": amount, "per_year": yearly}}
            )
    return {"needs": draw(drawn_needs()), "place": place, "ways": ways, "history": entries}


def weight(dose: Application) -> float:
    """Return how often a dose counts under the yearly depth."""
    if dose.material.class_ not in {"compost", "manure"} or dose.kind in {"cover", "fill"}:
        return 0.0
    manure = dose.material.class_ == "manure" or "manure_based" in dose.material.flags
    return 2.0 if manure else 1.0


def held(dose: Application, name: str) -> float:
    """Return the mass [kg/m2] of an element in a dose that the ceilings on it count."""
    bound = dose.kind == "cover" and dose.material.class_ in {"wood", "straw", "leaves"}
    if bound or dose.kind == "fill":
        return 0.0
    dry = dose.loose * dose.material["density"] * (1 - dose.material["moisture"])
    return dry * (dose.material.get(name) or 0.0) / dose.place.total_area


def ash(dose: Application) -> float:
    """Return the ash in a dose [kg/m2]."""
    return dose.loose * 300 / dose.place.total_area if dose.material.name == "ash" else 0.0


def straw(dose: Application) -> float:
    """Return the straw dug in in a dose [kg/m2]."""
    return dose.loose * 60 / dose.place.total_area if dose.material.name == "stalks" and dose.dug else 0.0


def years(doses: list[Application], chosen: set[int]) -> Iterable[tuple[bool, list[Application]]]:
    """Yield every twelve months from a dose on that have a chosen one in them, saying of the first it is so."""
    first = min((dose.day for dose in doses), default=START)
    for begin in {dose.day for dose in doses}:
        end = Step(months=12).after(begin)
        year = [dose for dose in doses if begin <= dose.day < end]
        if any(id(dose) in chosen for dose in year):
            yield begin == first, year


def sums_within(site: Site, chosen: list[Application], barred: Callable[[Place, date], bool]) -> None:
    """Assert by plain sums over dates that chosen doses keep every ceiling, whole inches read as round ones."""
    place, inch = site.places[0], 25.4 / 25 * (1 + 1e-6)
    marked = {id(dose) for dose in chosen}
    every = [*done(site, place), *chosen]
    rich = [dose for dose in every if weight(dose)]
    limits, feed = place.limits, place.need("feed")
    for first, year in years(rich, marked):
        deep = sum(weight(dose) * dose.loose for dose in year) / AREA
        if limits.depth_per_year is not None:
            assert deep <= limits.depth_per_year * inch
        elif not limits.farm:
            assert deep <= (0.1 if place.new and first else 0.025) * inch
    carried = feed.taken[1] if feed is not None and hasattr(feed, "taken") else 0.0
    for _, year in years(every, marked):
        phosphorus = {"low": 1e9, "high": carried, "very high": 0.0}[place.soil.phosphorus_test]
        counted = [dose for dose in year if held(dose, "phosphorus")]
        if any(id(dose) in marked for dose in counted):
            assert sum(held(dose, "phosphorus") for dose in counted) <= phosphorus * inch
        nitrogen = limits.nitrogen if limits.nitrogen is not None else 0.025 if limits.farm else 1e9
        counted = [dose for dose in year if held(dose, "nitrogen")]
        if any(id(dose) in marked for dose in counted):
            assert sum(held(dose, "nitrogen") for dose in counted) <= nitrogen * inch
        assert sum(map(ash, year)) <= 0.098 * inch
        assert sum(map(straw, year)) <= 1.0 * inch
    for dose in chosen:
        if dose.kind == "cover":
            assert dose.loose / AREA * dose.material["in_place"] <= COVERS[dose.material.name] / 1000 * inch
        if "raw" in dose.material.flags or dose.material.class_ == "manure":
            assert not barred(place, dose.day)


@draws(60)
@given(drawn_sites())
def test_no_dose_that_is_chosen_breaks_a_ceiling(
    site_of: SiteOf,
    bed: Describe,
    dark: dict[str, Any],
    within_wait: Callable[[Place, date], bool],
    drawn: dict[str, Any],
) -> None:
    """Each option by itself beside the history, and the cheapest together, keep every ceiling in any twelve months."""
    site = site_of(
        [bed(*drawn["needs"], area=AREA, **drawn["place"])],
        drawn["ways"],
        materials={name: of if "like" in of else {**dark, **of} for name, of in STUFF.items()},
        history=drawn["history"],
        climate={"annual_mean": "12 degC", "first_frost": "10-20"},
    )
    answer = options(site)
    for row in answer.options:
        sums_within(site, list(row.decision.every_dose), within_wait)
    sums_within(site, cheapest(answer).together.all_doses, within_wait)
    sums_within(site, cheapest(answer, partial=True).together.all_doses, within_wait)
