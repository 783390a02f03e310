"""The audit: every figure says where it is from, fits its dimension and is in order."""

from __future__ import annotations

import math
from collections import Counter
from typing import Any

import pytest

from barrowful.answers.cautions import conditions
from barrowful.catalogue import CATALOGUE_VERSION
from barrowful.catalogue.cautions import cautions
from barrowful.catalogue.ceilings import ceilings
from barrowful.catalogue.classes import flag_meanings
from barrowful.catalogue.crops import crops
from barrowful.catalogue.figures import GRADES, CatalogueError, files_in, load, read_figure, sources
from barrowful.catalogue.judgements import judgement_figure, judgement_names
from barrowful.catalogue.materials import material, names
from barrowful.catalogue.plants import plant, plant_names
from barrowful.catalogue.rates import coefficients, heap_figures, rates
from barrowful.catalogue.vocabulary import CLASSES, FIGURES, PLANT_FIGURES
from barrowful.measures.text import read_measure
from barrowful.sitefile.keys.need import NEED_KINDS
from barrowful.sitefile.keys.place import PLACE_KINDS
from barrowful.sitefile.keys.way import WAY_KINDS

#: What each unit measures: powers of length, mass, time, temperature and conductance, with its size.
UNITS: dict[str, tuple[tuple[int, ...], float]] = {
    "1": ((0, 0, 0, 0, 0), 1),
    "%": ((0, 0, 0, 0, 0), 0.01),
    "mm": ((1, 0, 0, 0, 0), 1e-3),
    "cm": ((1, 0, 0, 0, 0), 1e-2),
    "m": ((1, 0, 0, 0, 0), 1),
    "in": ((1, 0, 0, 0, 0), 0.0254),
    "ft": ((1, 0, 0, 0, 0), 0.3048),
    "m2": ((2, 0, 0, 0, 0), 1),
    "ha": ((2, 0, 0, 0, 0), 1e4),
    "L": ((3, 0, 0, 0, 0), 1e-3),
    "m3": ((3, 0, 0, 0, 0), 1),
    "g": ((0, 1, 0, 0, 0), 1e-3),
    "kg": ((0, 1, 0, 0, 0), 1),
    "t": ((0, 1, 0, 0, 0), 1e3),
    "lb": ((0, 1, 0, 0, 0), 0.45359237),
    "min": ((0, 0, 1, 0, 0), 60),
    "h": ((0, 0, 1, 0, 0), 3600),
    "day": ((0, 0, 1, 0, 0), 86400),
    "week": ((0, 0, 1, 0, 0), 604800),
    "month": ((0, 0, 1, 0, 0), 365.25 * 7200),
    "year": ((0, 0, 1, 0, 0), 365.25 * 86400),
    "dS": ((0, 0, 0, 0, 1), 0.1),
    "degC": ((0, 0, 0, 1, 0), 1),
}
#: What each dimension of the catalogue is in the same powers, and the size of the unit it is held in.
DIMENSIONS: dict[str, str] = {
    "length": "m",
    "area": "m2",
    "volume": "m3",
    "mass": "kg",
    "density": "kg/m3",
    "dose": "kg/m2",
    "feed": "g/m2",
    "conductivity": "dS/m",
    "share": "1",
    "ratio": "1",
    "count": "1",
    "time": "year",
    "hours": "h",
    "rate": "1/year",
    "temperature": "degC",
    "speed": "m/min",
    "water depth": "mm",
    "mass rate": "kg/year",
    "row yield": "kg/m/year",
    "area yield": "kg/m2/year",
    "work on volume": "h/m3",
    "work on mass": "h/kg",
    "work on area": "h/m2",
    "per trunk": "kg/m",
}


def measured(unit: str) -> tuple[tuple[int, ...], float]:
    """Return powers and size of a ratio of units such as kg/m2/year."""
    powers, size = [0, 0, 0, 0, 0], 1.0
    for index, word in enumerate(unit.split("/")):
        ups, one = UNITS[word]
        sign = -1 if index else 1
        powers = [power + sign * up for power, up in zip(powers, ups, strict=True)]
        size *= one**sign
    return tuple(powers), size


def name_of(file: str) -> str:
    """Return the name of what a file of a folder is of."""
    return file.partition("/")[2].removesuffix(".toml").replace("-", " ")


def dimension_of(entry: Any) -> str:
    """Return the dimension a figure must have, by the file it stands in and its key."""
    if entry.file.startswith("materials/"):
        return FIGURES[entry.key].dimension
    if entry.file.startswith("plants/"):
        return PLANT_FIGURES[entry.key]
    if not entry.file.startswith("crops/"):
        return str(entry.table["dimension"])
    endings = {
        "_per_trunk": "per trunk",
        "_per_year_of_age": "mass rate",
        "_per_yield": "share",
        "_cap": "mass",
    }
    found = next((dimension for end, dimension in endings.items() if entry.key.endswith(end)), "")
    return found or ("mass" if crops()[name_of(entry.file)].per_tree else "dose")


def test_there_is_a_catalogue(entries: list[Any]) -> None:
    """The audit sees the figures: hundreds of them, of every kind of file."""
    figures = [one for one in entries if one.is_figure]
    kinds = Counter(one.file.split("/")[0] for one in figures)
    assert len(figures) > 500
    assert {"materials", "plants", "crops", "judgements", "rates.toml", "heaps.toml"} <= set(kinds)
    assert CATALOGUE_VERSION.strip()


def test_every_entry_says_where_it_is_from(entries: list[Any], known_sources: dict[str, Any]) -> None:
    """Each has sources that exist, a place in them, and a grade; a figure has its basis."""
    wrong = []
    for one in entries:
        keys = one.table.get("source", [])
        cited = [keys] if isinstance(keys, str) else keys
        complete = cited and one.table.get("place", "").strip() and one.table.get("grade") in GRADES
        if not complete or not set(cited) <= set(known_sources) or len(set(cited)) != len(cited):
            wrong.append(one.path)
        elif one.is_figure and not one.table.get("basis", "").strip():
            wrong.append(f"{one.path}: no basis")
    assert wrong == []


def test_every_figure_has_a_unit_of_its_dimension(entries: list[Any]) -> None:
    """The unit measures what the figure is of, by powers of length, mass, time, temperature and conductance."""
    wrong = [
        f"{one.path}: {one.table['unit']} for {dimension_of(one)}"
        for one in entries
        if one.is_figure and measured(one.table["unit"])[0] != measured(DIMENSIONS[dimension_of(one)])[0]
    ]
    assert wrong == []


def test_every_figure_is_in_order(entries: list[Any]) -> None:
    """Low, likely and high are finite texts of numbers in order; shares lie between nothing and all."""
    wrong = []
    for one in entries:
        if not one.is_figure:
            continue
        texts = [one.table[end] for end in ("low", "likely", "high")]
        low, middle, high = (float(text) for text in texts)
        fine = all(isinstance(text, str) and math.isfinite(float(text)) for text in texts)
        fine = fine and low <= middle <= high
        if dimension_of(one) == "share" and one.table["unit"] == "%":
            least = -100 if one.key == "available_nitrogen" else 0
            fine = fine and least <= low and high <= 100
        elif dimension_of(one) != "temperature":
            fine = fine and low >= 0 and high > 0
        if not fine:
            wrong.append(f"{one.path}: {texts}")
    assert wrong == []


def test_every_figure_loads_to_its_value(entries: list[Any]) -> None:
    """The loader gives the number times the size of the unit, reckoned here without it."""
    loaded = {
        f"materials.{name}.{key}": one for name in names() for key, one in _figures(material(name)).items()
    }
    loaded |= {
        f"plants.{name}.{key}": one for name in plant_names() for key, one in _figures(plant(name)).items()
    }
    loaded |= {
        f"crops.{name}.{key}": one
        for name, crop in crops().items()
        for key, one in crop.figures.items()
        if key != "recommended_nitrogen"  # made of the rates; tested where they are
    }
    loaded |= {
        f"ceilings.{name}.{key}": figure
        for name, ceiling in ceilings().items()
        for key, figure in ceiling.figures.items()
    }
    loaded |= {f"judgements.{key}": judgement_figure(key) for key in judgement_names()}
    for kind, tables in {"rates": rates(), "heaps": heap_figures(), "other_models": coefficients()}.items():
        loaded |= {f"{kind}.{key}": one for key, one in tables.items()}
    compared = set()
    for one in entries:
        if not one.is_figure:
            continue
        kind = one.file.removesuffix(".toml").partition("/")[0]
        name = one.path.split(".")[-2] if kind == "ceilings" else name_of(one.file)
        alone = not name or kind == "judgements"
        path = f"{kind}.{one.key}" if alone else f"{kind}.{name}.{one.key}"
        figure, size = (
            loaded[path],
            measured(one.table["unit"])[1] / measured(DIMENSIONS[dimension_of(one)])[1],
        )
        for end in ("low", "likely", "high"):
            assert getattr(figure, end) == pytest.approx(float(one.table[end]) * size, rel=1e-12), path
        compared.add(path)
    assert compared == set(loaded)


def _figures(record: Any) -> dict[str, Any]:
    assert record is not None
    return dict(record.figures)


def test_no_table_goes_unread(contents: dict[str, Any]) -> None:
    """A misspelt figure would be left out without a word: every table of a material or plant is known."""
    for folder, known in (("materials/", FIGURES), ("plants/", PLANT_FIGURES)):
        for file, content in contents.items():
            if file.startswith(folder):
                tables = {key for key, value in content.items() if isinstance(value, dict)}
                assert tables <= set(known), file


def test_names_are_unique_and_files_are_called_by_them(contents: dict[str, Any]) -> None:
    """No two names of a kind differ by case only, and each file bears the name it holds."""
    for kind, found in {"materials": names(), "plants": plant_names(), "crops": tuple(crops())}.items():
        assert len({name.casefold() for name in found}) == len(found), kind
        assert all(name == name.strip().casefold() for name in found)
    for file, content in contents.items():
        if file.startswith(("materials/", "plants/", "crops/")):
            assert file.partition("/")[2] == content["name"].replace(" ", "-") + ".toml"
        if file.startswith(("materials/", "plants/")):
            assert content["about"].strip().endswith(".")


def test_every_source_is_used_and_can_be_found(
    entries: list[Any], known_sources: dict[str, Any], contents: dict[str, Any]
) -> None:
    """No source stands for nothing; each names an author and a title; no key stands in two files.

    The sources kept for the relations of ground are held to their docstrings by the tests of ground.
    """
    used = set(contents["sources/ground.toml"])
    for one in entries:
        keys = one.table.get("source", [])
        used |= {keys} if isinstance(keys, str) else set(keys)
    assert sorted(set(known_sources) - used) == []
    assert sum(len(content) for file, content in contents.items() if file.startswith("sources/")) == len(
        known_sources
    )
    assert sources().keys() == known_sources.keys()
    for key, source in known_sources.items():
        assert set(source) <= {"author", "year", "title", "publisher", "address"}, key
        assert source["author"].strip(), key
        assert source["title"].strip(), key
        assert " " in source["author"] or "." not in source["author"], f"{key}: say what kind of page it is"


def test_materials_are_plausible() -> None:
    """C:N lies between 2 and 1000, and carbon is at most 0.65 of the organic matter."""
    assert len(names()) >= 20
    for name in names():
        stuff = material(name)
        assert stuff is not None
        assert stuff.class_ in CLASSES
        carbon, nitrogen, matter = (stuff.get(key) for key in ("carbon", "nitrogen", "organic_matter"))
        if not (stuff.sort.mineral or stuff.sort.as_sold):
            assert carbon, name
            assert nitrogen, name
        if carbon and nitrogen:
            assert 2 <= carbon / nitrogen <= 1000, name
        if carbon is not None and matter is not None:
            assert carbon <= 0.65 * matter + 1e-12, name


def test_enough_materials_are_complete() -> None:
    """At least twenty have every figure that volumes, nutrients, settling, decay and humus want."""
    wanted = (
        "density",
        "moisture",
        "carbon",
        "nitrogen",
        "phosphorus",
        "potassium",
        "in_place",
        "decay",
        "humus",
    )
    complete = [name for name in names() if not material(name).lacks(*wanted)]  # type: ignore[union-attr]
    assert len(complete) >= 20


def test_the_catalogue_keeps_the_limits_of_the_reader() -> None:
    """No figure of a material lies outside what the site file would take for it."""
    for name in names():
        for key, figure in _figures(material(name)).items():
            limits = FIGURES[key]
            if limits.least:
                least = read_measure(limits.least, (limits.dimension,), {})
                assert figure.low >= least.size, (name, key)
            if limits.most:
                most = read_measure(limits.most, (limits.dimension,), {})
                assert figure.high <= most.size, (name, key)


def test_plants_yield_known_materials() -> None:
    """Each plant yields a material of the catalogue; one that fixes no nitrogen claims no share of it."""
    for name in plant_names():
        grown = plant(name)
        assert grown is not None
        assert grown.material in names(), name
        assert grown.fixes_nitrogen or "fixed_share" not in grown.figures, name
        assert any(key.startswith("dry_") for key in grown.figures), name


@pytest.mark.parametrize("name", ["comfrey", "tithonia"])
def test_plants_that_only_move_nutrients(name: str) -> None:
    """Comfrey and tithonia bring up and move nitrogen, and fix none."""
    grown = plant(name)
    assert grown is not None
    assert not grown.fixes_nitrogen


def raw_cautions(contents: dict[str, Any]) -> list[dict[str, Any]]:
    """Return the cautions as they stand in the files."""
    return [
        one
        for file, content in contents.items()
        if file.startswith("cautions/")
        for one in content["caution"]
    ]


def test_cautions_are_whole(contents: dict[str, Any]) -> None:
    """Each has a key of its own, a severity from 1 to 5, a sentence, and something that calls for it."""
    found = raw_cautions(contents)
    assert len(found) > 30
    assert len({one["key"] for one in found}) == len(found) == len(cautions())
    for one in found:
        assert one["severity"] in range(1, 6), one["key"]
        assert one["text"].strip().endswith("."), one["key"]
        assert one["when"], one["key"]
    assert {one["severity"] for one in found} >= {3, 4, 5}


def test_cautions_are_called_for_by_known_words(contents: dict[str, Any]) -> None:
    """Every trigger is a kind of trigger there is, and every word of it one that can come up."""
    known = {
        "classes": set(CLASSES),
        "flags": set(flag_meanings()),
        "without": set(flag_meanings()),
        "ways": set(WAY_KINDS),
        "needs": set(NEED_KINDS),
        "places": set(PLACE_KINDS),
    }
    for one in raw_cautions(contents):
        when = one["when"]
        assert set(when) <= {*known, "condition"}, one["key"]
        for kind, words in known.items():
            assert set(when.get(kind, [])) <= words, one["key"]


def test_conditions_and_cautions_fit(contents: dict[str, Any]) -> None:
    """Every condition the code can judge is used by a caution, and no caution names another."""
    used = {one["when"]["condition"] for one in raw_cautions(contents) if "condition" in one["when"]}
    assert used == conditions()


GOOD = {
    "low": "1",
    "likely": "2",
    "high": "3",
    "unit": "%",
    "basis": "x",
    "source": "y",
    "place": "z",
    "grade": "read",
}


def test_a_whole_figure_loads() -> None:
    """The figure that the next tests spoil is sound."""
    figure = read_figure(GOOD, "share", "here")
    assert (figure.low, figure.likely, figure.high) == (0.01, 0.02, 0.03)
    assert (figure.sources, figure.place, figure.grade) == (("y",), "z", "read")


@pytest.mark.parametrize("key", ["low", "likely", "high", "unit", "source", "place", "grade"])
@pytest.mark.parametrize("empty", [None, ""])
def test_a_figure_that_lacks_something_does_not_load(key: str, empty: str | None) -> None:
    """Without a value, a unit, a source, a place in it or a grade there is no figure, and it says which."""
    entry = {name: value for name, value in GOOD.items() if name != key}
    if empty is not None:
        entry[key] = empty
    with pytest.raises(CatalogueError, match=f"here: lacks {key}"):
        read_figure(entry, "share", "here")


@pytest.mark.parametrize(
    "change",
    [{"grade": "guessed"}, {"low": "3"}, {"high": "1"}, {"source": []}, {"low": "1,5"}, {"likely": "about 2"},
     {"high": "nan"}, {"high": "1e999"}, {"unit": "kg/m3"}, {"unit": "percents"}],
    ids=str,
)  # fmt: skip
def test_a_figure_that_is_wrong_does_not_load(change: dict[str, Any]) -> None:
    """An unknown grade, an order that is none, a number or a unit that is none are refused."""
    with pytest.raises(
        ValueError, match=r"here|unit|number|comma|large|percents|dimension|density|share|decimal"
    ):
        read_figure({**GOOD, **change}, "share", "here")


def test_what_is_read_is_what_is_written(contents: dict[str, dict[str, Any]]) -> None:
    """The one file that commands read holds what all files of the catalogue do, in their order."""
    told = "run python docs/generate.py"
    assert [name for name in contents if load(name) != contents[name]] == [], told
    for folder in ("materials", "plants", "crops", "cautions", "judgements", "sources"):
        assert list(files_in(folder)) == [name for name in contents if name.startswith(f"{folder}/")], told
