"""What the tests of plans share: small sites from plain values, and the model of decay reckoned apart."""

from __future__ import annotations

import json
import math
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Any

import numpy
import pytest
from draws import load_profile
from scipy.integrate import solve_ivp

from barrowful.answers.choices import whole_site
from barrowful.answers.option import Option
from barrowful.answers.options import Answer, options
from barrowful.answers.orders import decide
from barrowful.measures.problems import Problem, SiteProblems
from barrowful.site.load import load
from barrowful.site.records import Site

load_profile()

#: Stuff of the tests' own, every figure stated in the site file, so that no sum rests on the catalogue.
STUFF: dict[str, dict[str, str]] = {
    "dark stuff": {
        "class": "compost",
        "density": "600 kg/m3",
        "moisture": "45 %",
        "organic_matter": "42 %",
        "carbon": "22 %",
        "nitrogen": "1.4 %",
        "phosphorus": "0.25 %",
        "potassium": "0.9 %",
        "in_place": "88 %",
        "decay": "0.8 /year",
        "humus": "70 %",
        "available_nitrogen": "5 %",
        "lasts": "2 years",
    },
    "chipped wood": {
        "class": "wood",
        "density": "280 kg/m3",
        "moisture": "45 %",
        "organic_matter": "98 %",
        "carbon": "48 %",
        "nitrogen": "0.45 %",
        "phosphorus": "0.045 %",
        "potassium": "0.25 %",
        "in_place": "80 %",
        "decay": "0.35 /year",
        "humus": "40 %",
        "lasts": "2 years",
    },
    "yellow stalks": {
        "class": "straw",
        "density": "60 kg/m3",
        "moisture": "12 %",
        "organic_matter": "94 %",
        "carbon": "44 %",
        "nitrogen": "0.55 %",
        "phosphorus": "0.08 %",
        "potassium": "1.2 %",
        "in_place": "55 %",
        "decay": "2 /year",
        "humus": "22 %",
        "lasts": "0.5 year",
    },
}
DAYS = 365.25
#: Active and slow humus lost a year at 15 degC on a loam, the share of new humus that is slow, and organic
#: matter for each carbon (the project's contract).
HUMUS_RATE, SLOW_RATE, SLOW_SHARE, MATTER = 0.20, 0.014, 0.25, 2.0
#: How fast stuff of a class decays on top over dug in.
ON_TOP = {"compost": 0.65, "wood": 1.0, "straw": 0.25}


@dataclass(frozen=True, kw_only=True)
class Model:
    """Fresh carbon goes at rate ``a``, a share ``h`` of it to humus: of that ``slow`` at rate ``c``, else ``b``."""

    a: float
    b: float
    c: float
    h: float
    slow: float
    fresh_counts: bool = True

    def parts(self, years: float) -> tuple[float, float]:
        """Return fresh carbon and humus of one carbon put on so many years ago, in closed form."""
        fresh, humus = math.exp(-self.a * years), 0.0
        for share, lost in ((1 - self.slow, self.b), (self.slow, self.c)):
            humus += share * self.h * self.a / (self.a - lost) * (math.exp(-lost * years) - fresh)
        return fresh, humus

    def counted(self, years: float) -> float:
        """Return what counts as soil organic carbon of one carbon dug in so many years ago."""
        if years < 0:
            return 0.0
        fresh, humus = self.parts(years)
        return humus + (fresh if self.fresh_counts else 0.0)

    def stepped(self, pulses: Iterable[tuple[date, float]], day: date) -> tuple[float, float]:
        """Return fresh carbon and humus on a day by stepping through the equations from pulse to pulse."""
        stocks, now = numpy.zeros(3), None
        for when, carbon in sorted(pulses):
            if when <= day:
                stocks = self._step(stocks, (when - now).days / DAYS) if now else stocks
                stocks, now = stocks + numpy.array([carbon, 0.0, 0.0]), when
        stocks = self._step(stocks, (day - now).days / DAYS) if now else stocks
        return float(stocks[0]), float(stocks[1] + stocks[2])

    def held(self, pulses: Iterable[tuple[date, float]], day: date) -> float:
        """Return what counts on a day, stepped."""
        fresh, humus = self.stepped(pulses, day)
        return humus + (fresh if self.fresh_counts else 0.0)

    def _step(self, stocks: numpy.ndarray, years: float) -> numpy.ndarray:
        def change(_: float, now: numpy.ndarray) -> list[float]:
            humified = self.h * self.a * now[0]
            return [
                -self.a * now[0],
                (1 - self.slow) * humified - self.b * now[1],
                self.slow * humified - self.c * now[2],
            ]

        if years <= 0:
            return stocks
        answer: numpy.ndarray = solve_ivp(
            change, (0, years), stocks, method="DOP853", rtol=1e-9, atol=1e-12
        ).y
        return answer[:, -1]


class Apart:
    """Sums done apart from the tool, from the relations of the notes."""

    stuff = STUFF
    matter = MATTER

    def figure(self, name: str, key: str) -> float:
        """Return a stated figure in SI units: shares as fractions."""
        number, unit = STUFF[name][key].split(" ", 1)
        return float(number) / (100 if unit == "%" else 1)

    def carbon(self, name: str, loose: float) -> float:
        """Return the carbon [kg] in a loose volume [m3]: density x dry share x carbon share."""
        dry = self.figure(name, "density") * (1 - self.figure(name, "moisture"))
        return loose * dry * self.figure(name, "carbon")

    def warmth(self, temperature: float) -> float:
        """Return RothC's temperature curve over its value at 15 degC."""

        def curve(t: float) -> float:
            return 47.91 / (1 + math.exp(106.06 / (t + 18.27)))

        return curve(temperature) / curve(15.0)

    def model(
        self,
        name: str,
        temperature: float = 15.0,
        clay: float = 0.2,
        humus: float | None = None,
        dug: bool = True,
    ) -> Model:
        """Return how a stuff goes at a temperature [degC] in a soil of some clay [share], moist."""
        warmth, class_ = self.warmth(temperature), STUFF[name]["class"]
        on_humus = warmth * math.exp(-2.519 * (clay - 0.2))
        return Model(
            a=self.figure(name, "decay") * warmth * (1.0 if dug else ON_TOP[class_]),
            b=HUMUS_RATE * on_humus,
            c=SLOW_RATE * on_humus,
            h=self.figure(name, "humus") if humus is None else humus,
            slow=SLOW_SHARE,
            fresh_counts=class_ in {"compost", "manure"},
        )

    def years(self, start: date, end: date) -> float:
        """Return the years between two dates."""
        return (end - start).days / DAYS


@pytest.fixture(scope="session")
def apart() -> Apart:
    """Give the sums done apart."""
    return Apart()


SiteOf = Callable[..., Site]


def _data(places: list[Any], ways: list[Any], more: dict[str, Any]) -> bytes:
    data: dict[str, Any] = {
        "site": "Field",
        "currency": "EUR",
        "start": "2027-03-01",
        "horizon": "4 years",
        "climate": {"annual_mean": "15 degC"},
        "soil": {"organic_matter": "2 %", "bulk_density": "1.3 g/cm3", "clay": "20 %"},
        "places": places,
        "ways": ways,
        "materials": STUFF,
    }
    return json.dumps({**data, **more}).encode()


@pytest.fixture(scope="session")
def site_of() -> SiteOf:
    """Give a function that returns a site of places, ways and any other sections, with the tests' stuff."""

    def build(places: list[Any], ways: list[Any], **more: Any) -> Site:
        return load(_data(places, ways, more), "field.yaml").site

    return build


@pytest.fixture(scope="session")
def problems_of() -> Callable[..., tuple[Problem, ...]]:
    """Give a function that returns the problems of such a site, none when it is sound."""

    def complain(places: list[Any], ways: list[Any], **more: Any) -> tuple[Problem, ...]:
        try:
            load(_data(places, ways, more), "field.yaml")
        except SiteProblems as found:
            return found.problems
        return ()

    return complain


@pytest.fixture(scope="session")
def warnings_of() -> Callable[..., tuple[Problem, ...]]:
    """Give a function that returns the warnings of such a site."""

    def warn(places: list[Any], ways: list[Any], **more: Any) -> tuple[Problem, ...]:
        return load(_data(places, ways, more), "field.yaml").warnings

    return warn


@pytest.fixture(scope="session")
def bed() -> Callable[..., dict[str, Any]]:
    """Give a function that describes a bed of an area [m2] with some needs."""

    def describe(*needs: dict[str, Any], area: float = 10, name: str = "bed", **more: Any) -> dict[str, Any]:
        shape = {"area": f"{area:.6f} m2"}
        return {"name": name, "kind": "bed", "shape": shape, "needs": list(needs), **more}

    return describe


@pytest.fixture(scope="session")
def buy() -> Callable[..., dict[str, Any]]:
    """Give a function that describes a seller of dark stuff at 40 a cubic metre, or of anything else."""

    def describe(
        name: str = "yard", material: str = "dark stuff", price: str = "40 EUR/m3", **more: Any
    ) -> dict[str, Any]:
        return {"name": name, "buy": {"material": material, "price": price, **more}}

    return describe


@pytest.fixture(scope="session")
def row_of() -> Callable[..., Option]:
    """Give a function that returns the option of a kind of need, and of a way where there are several."""

    def find(site: Site, need: str, way: str = "") -> Option:
        rows = [row for row in options(site).options if row.need == need and way in {"", row.name}]
        assert len(rows) == 1
        return rows[0]

    return find


@dataclass(frozen=True)
class Total:
    """A row of the whole-site table."""

    cash: Decimal
    loose: float
    met: tuple[str, ...]
    unmet: tuple[str, ...]


@pytest.fixture(scope="session")
def total() -> Callable[..., Total]:
    """Give a function that returns a row of a site's whole-site table, by its title."""

    def find(site: Site, title: str = "cheapest for each need") -> Total:
        row = next(row for row in whole_site(options(site)) if row.title == title)
        loose = sum(dose.loose for dose in row.together.all_doses)
        return Total(row.bill.cash, loose, row.met, row.unmet)

    return find


@dataclass(frozen=True)
class Decided:
    """What is followed of a site: its title, the options, and all there was to choose from."""

    title: str
    chosen: list[Option]
    answer: Answer


@pytest.fixture(scope="session")
def decided() -> Callable[..., Decided]:
    """Give a function that returns what is followed: the plan, one way, or what is cheapest."""

    def find(site: Site, way: str = "") -> Decided:
        said = decide(site, way)
        return Decided(said.title, said.chosen, said.answer)

    return find
