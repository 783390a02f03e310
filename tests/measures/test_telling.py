"""Sentences in metric and in customary units: the same amounts, and no more than is asked for."""

from __future__ import annotations

import re
from fractions import Fraction
from importlib.resources import files
from pathlib import Path

import pytest
from click.testing import CliRunner

import barrowful
from barrowful.cli.main import cli
from barrowful.measures.telling import TEMPERATURE, VOLUME, either, is_customary, measured, told_in

CATALOGUE = Path(str(files(barrowful) / "catalogue"))
PAIRS = sorted(
    {
        match.groups()
        for path in CATALOGUE.rglob("*.toml")
        for match in re.finditer(r"\{([^{}|]*)\|([^{}|]*)\}", path.read_text("utf-8"))
    }
)
#: What one of each unit is in the other system: by the international inch and pound, and the acre of 43,560 ft2.
IN_CUSTOMARY = {
    ("cm", "in"): 1 / 2.54,
    ("mm", "in"): 1 / 25.4,
    ("m", "ft"): 1 / 0.3048,
    ("m3", "yd3"): 1 / 0.764554857984,
    ("kg", "lb"): 1 / 0.45359237,
    ("hectare", "acre"): 0.40468564224 / 0.45359237,
    ("g/m2", "ft2"): 92.90304 / 453.59237,
    ("mg/kg", "ppm"): 1.0,
}


def amounts(text: str) -> list[float]:
    """Return the numbers of a text, without those that say per how much."""
    bare = re.sub(r"\(.*?\)|/1000 ft2|[A-Za-z]\d", "", text).replace(",", "")
    return [float(Fraction(number)) for number in re.findall(r"\d+/\d+|\d+(?:\.\d+)?", bare)]


@pytest.mark.parametrize(("metric", "customary"), PAIRS)
def test_both_systems_say_the_same(metric: str, customary: str) -> None:
    """Words in two systems differ by rounding alone; where one is a ratio, it is one in both."""
    there, here = amounts(metric), amounts(customary)
    if not here:
        assert customary == "half an inch"
        return
    first, last = re.sub(r" \(.*\)", "", metric).split()[-1], customary.split()[-1]
    if last == "degF":
        assert here == pytest.approx([32 + 1.8 * degrees for degrees in there], abs=1)
    elif "for every" in metric:
        assert here == there
    else:
        assert here == pytest.approx([IN_CUSTOMARY[first, last] * each for each in there], rel=0.08)


def test_nothing_in_two_systems_is_left_standing() -> None:
    """There are such words, and neither bar nor braces are ever seen of them."""
    assert len(PAIRS) >= 20
    for metric, customary in PAIRS:
        assert either(f"Up to {{{metric}|{customary}}}.") == f"Up to {metric}."
        with told_in("customary"):
            assert either(f"Up to {{{metric}|{customary}}}.") == f"Up to {customary}."


def test_what_is_told_in_ends_with_what_asked_for_it() -> None:
    """A command that told in customary units leaves the next one metric, also where it failed."""
    assert measured(0.0, TEMPERATURE) == "0 degC"
    for words in (["heap", "--of", "1 m3 straw"], ["heap", "--of", "no such thing"]):
        CliRunner().invoke(cli, [*words, "--measures", "customary"])
        assert not is_customary()
    with pytest.raises(KeyError), told_in("customary"):
        raise KeyError(measured(1.0, VOLUME))
    assert measured(1.0, VOLUME) == "1 m3"


def test_machines_get_metric_sentences() -> None:
    """JSON says the same whatever people see; a screen in customary units has no metric one."""
    blend = ["heap", "--of", "2 m3 straw", "--of", "1 m3 coffee grounds", "--to-moisture", "60 %"]
    said = [
        CliRunner().invoke(cli, [*blend, "--measures", measures, "--format", form]).stdout
        for form in ("json", "table")
        for measures in ("metric", "customary")
    ]
    assert said[0] == said[1]
    assert " kg (litres) of water" in said[0]
    assert " kg" in said[2]
    assert " lb of water" in said[3]
    assert not re.search(r"\b(kg|m3)\b", said[3])
