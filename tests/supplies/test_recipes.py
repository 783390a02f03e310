"""Heap recipes against a linear programme solved by scipy: the fullest, and the cheapest of those."""

from __future__ import annotations

import numpy
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import linprog

from barrowful.catalogue.figures import computed
from barrowful.catalogue.materials import Material, material
from barrowful.supplies.heap.recipe import Offer, Recipe, best_recipe

#: Too wet to build above this, unless a wetter heap is aimed for (Cooperband 2002).
WETTEST = 0.65


def stuff(name: str, density: float, moisture: float, carbon: float, nitrogen: float) -> Material:
    """Return a material of given density [kg/m3] and shares."""
    base = material("straw")
    assert base is not None
    shares = {"moisture": moisture, "carbon": carbon, "nitrogen": nitrogen}
    figures = {key: computed(key, "share", value) for key, value in shares.items()}
    return Material(name, "straw", "", {"density": computed("density", "density", density), **figures})


@st.composite
def offers(draw: st.DrawFn) -> list[Offer]:
    """Draw what there is for a heap: two to five stuffs, some without limit, at whole prices."""
    found = []
    for index in range(draw(st.integers(2, 5))):
        carbon, ratio = draw(st.integers(25, 55)) / 100, draw(st.integers(8, 150))
        one = stuff(
            f"stuff {index}",
            draw(st.integers(6, 80)) * 10.0,
            draw(st.integers(5, 88)) / 100,
            carbon,
            carbon / ratio,
        )
        most = draw(st.one_of(st.integers(0, 500).map(float), st.just(float("inf"))))
        found.append(Offer(one, most, float(draw(st.integers(0, 20)))))
    return found


BANDS = st.tuples(st.integers(18, 45), st.integers(0, 15)).map(lambda two: (float(two[0]), float(sum(two))))
ROOMS = st.integers(2, 30).map(lambda tenths: tenths / 10)


class Programme:
    """The recipe as a linear programme over wet masses, written down apart."""

    def __init__(self, given: list[Offer], room: float, cn: tuple[float, float], moisture: float) -> None:
        def column(name: str) -> numpy.ndarray:
            return numpy.array([offer.material[name] for offer in given])

        dry = 1 - column("moisture")
        self.volumes, self.prices = 1 / column("density"), numpy.array([offer.price for offer in given])
        carbon, nitrogen = dry * column("carbon"), dry * column("nitrogen")
        wettest = max(moisture, WETTEST)
        self.rows = [
            self.volumes,
            carbon - cn[1] * nitrogen,
            cn[0] * nitrogen - carbon,
            column("moisture") - wettest,
        ]
        self.limits = [room, 0.0, 0.0, 0.0]
        self.bounds = [(0, None if offer.most == float("inf") else offer.most) for offer in given]

    def fullest(self) -> float:
        """Return the greatest volume [m3]."""
        found = linprog(-self.volumes, self.rows, self.limits, bounds=self.bounds)
        assert found.status == 0
        return float(-found.fun)

    def cheapest(self, volume: float) -> float:
        """Return the least cost of filling so much."""
        rows, limits = [*self.rows, -self.volumes], [*self.limits, -volume]
        found = linprog(self.prices, rows, limits, bounds=self.bounds)
        assert found.status == 0
        return float(found.fun)


def volume(recipe: Recipe) -> float:
    """Return the loose volume of a recipe [m3]."""
    return sum(
        mass / offer.material["density"] for offer, mass in zip(recipe.offers, recipe.masses, strict=True)
    )


@settings(max_examples=80, deadline=None)
@given(offers(), ROOMS, BANDS, st.integers(45, 70))
def test_as_full_as_a_linear_programme_makes_it(
    given: list[Offer], room: float, cn: tuple[float, float], percent: int
) -> None:
    """No recipe within the limits fills more; where nothing fits, there is none."""
    best = Programme(given, room, cn, percent / 100).fullest()
    recipe = best_recipe(given, room, cn, percent / 100)
    if best < 1e-6:
        assert recipe is None or volume(recipe) < 1e-5
    else:
        assert recipe is not None
        assert volume(recipe) == pytest.approx(best, rel=1e-5)


@settings(max_examples=80, deadline=None)
@given(offers(), ROOMS, BANDS, st.integers(45, 70))
def test_the_cheapest_of_the_fullest(
    given: list[Offer], room: float, cn: tuple[float, float], percent: int
) -> None:
    """Asked for the cheapest, a recipe still fills as much, and no recipe that does costs less."""
    programme = Programme(given, room, cn, percent / 100)
    best = programme.fullest()
    recipe = best_recipe(given, room, cn, percent / 100, cheapest=True)
    if best < 1e-6:
        return
    assert recipe is not None
    assert volume(recipe) == pytest.approx(best, rel=1e-5)
    cost = sum(mass * offer.price for offer, mass in zip(recipe.offers, recipe.masses, strict=True))
    assert cost <= programme.cheapest(best * (1 - 1e-9)) * (1 + 1e-4) + 1e-4


@settings(max_examples=80, deadline=None)
@given(offers(), ROOMS, BANDS, st.integers(45, 70), st.booleans())
def test_the_limits_are_kept(
    given: list[Offer], room: float, cn: tuple[float, float], percent: int, cheapest: bool
) -> None:
    """C:N, room, what there is of each and the greatest moisture are kept, and water comes up to the aim."""
    aim = percent / 100
    recipe = best_recipe(given, room, cn, aim, cheapest)
    if recipe is None or sum(recipe.masses) < 1e-3:
        return
    masses = numpy.array(recipe.masses)
    shares = {
        key: numpy.array([offer.material[key] for offer in recipe.offers])
        for key in ("moisture", "carbon", "nitrogen")
    }
    dry = masses * (1 - shares["moisture"])
    ratio = float(dry @ shares["carbon"] / (dry @ shares["nitrogen"]))
    assert cn[0] * (1 - 1e-4) <= ratio <= cn[1] * (1 + 1e-4)
    assert recipe.cn == pytest.approx(ratio)
    assert (masses >= 0).all()
    assert all(
        mass <= offer.most * (1 + 1e-6) + 1e-6 for offer, mass in zip(recipe.offers, masses, strict=True)
    )
    assert volume(recipe) <= room * (1 + 1e-6)
    wet = float(masses @ shares["moisture"] / masses.sum())
    assert wet <= max(aim, WETTEST) + 1e-5
    watered = (float(masses @ shares["moisture"]) + recipe.water) / (masses.sum() + recipe.water)
    assert recipe.water >= 0
    assert watered == pytest.approx(max(aim, wet), abs=1e-5)
    assert recipe.moisture == pytest.approx(watered)


def test_the_order_of_offers_is_nothing_to_it() -> None:
    """The same offers in another order fill as much at the same cost."""
    given = [
        Offer(stuff("chip", 280, 0.45, 0.48, 0.0045), 400, 2),
        Offer(stuff("grounds", 480, 0.6, 0.5, 0.022), 300, 5),
        Offer(stuff("grass", 300, 0.82, 0.43, 0.032), 250, 0),
    ]
    found = []
    for order in (given, given[::-1], [given[1], given[2], given[0]]):
        recipe = best_recipe(order, 1.0, (30, 30), 0.55, cheapest=True)
        assert recipe is not None
        cost = sum(mass * offer.price for offer, mass in zip(recipe.offers, recipe.masses, strict=True))
        found.append((round(volume(recipe), 6), round(cost, 4)))
    assert len(set(found)) == 1


def test_nothing_there_is_no_recipe() -> None:
    """Without stuff, or with stuff of one side of the aim alone, there is no recipe."""
    chip = stuff("chip", 280, 0.45, 0.48, 0.0045)
    assert best_recipe([], 1.0, (30, 30), 0.55) is None
    assert best_recipe([Offer(chip, 0.0)], 1.0, (30, 30), 0.55) is None
    assert best_recipe([Offer(chip, 500.0)], 1.0, (30, 30), 0.55) is None


def test_stuff_without_nitrogen_makes_no_heap() -> None:
    """Stuff with neither carbon nor nitrogen meets any ratio with nothing; it is no recipe by itself."""
    ash = stuff("ash", 500.0, 0.1, 0.0, 0.0)
    assert best_recipe([Offer(ash, 100.0)], 1.0, (30.0, 30.0), 0.55) is None
    greens, stalks = stuff("greens", 300.0, 0.8, 0.45, 0.03), stuff("stalks", 60.0, 0.1, 0.45, 0.005)
    mixed = best_recipe(
        [Offer(ash, 10.0), Offer(greens, 500.0), Offer(stalks, 500.0)], 1.0, (30.0, 30.0), 0.55
    )
    assert mixed is not None
    assert mixed.cn == pytest.approx(30.0)
