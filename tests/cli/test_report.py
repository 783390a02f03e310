"""``barrowful report``: one page with everything, sound, by itself, and the same as what other commands say."""

from __future__ import annotations

import json
import re
import subprocess
import sys
from collections import Counter
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from pages import ALLOWED, Reader, read_page

from barrowful.answers.orders import decide
from barrowful.answers.used import figures_followed, general_figures
from barrowful.catalogue.materials import material
from barrowful.cli.files import read_bytes
from barrowful.site.load import load

Call = Callable[..., Any]
#: Nothing that is not always there: the extra, and what charts and solves with it.
WITHOUT_EXTRA = """
import sys
for name in ("numpy", "highspy", "matplotlib", "scipy"):
    sys.modules[name] = None
from barrowful.cli.main import exit_code
sys.exit(exit_code(sys.argv[1:]))
"""
HOSTILE = "</td><script>alert('1')</script> & \"b\""
SECTIONS = [
    "What to do",
    "What goes where",
    "Orders",
    "Jobs of the first twelve months",
    "Ways side by side",
    "Heaps",
    "Year by year",
    "Cautions",
    "Figures",
]


@pytest.fixture(scope="module")
def document(ask: Call, demos: dict[str, Path]) -> str:
    """Give the page of a demo with a heap."""
    done = ask("report", demos["crooked-ladle-orchard"])
    assert done.code == 0, done.err
    return str(done.text)


@pytest.fixture(scope="module")
def page(document: str) -> Reader:
    """Give that page as it is read back."""
    return read_page(document)


def test_the_document_is_sound(document: str, page: Reader) -> None:
    """It is declared, has a language and a title, headings in order, and every link leads somewhere."""
    assert page.declared == ["DOCTYPE html"]
    assert page.named("html")[0].attributes == {"lang": "en"}
    assert page.named("title")[0].text == page.named("h1")[0].text == "Crooked Ladle Orchard"
    assert [of.text for of in page.named("h2")] == SECTIONS
    assert page.counts["h1"] == page.counts["main"] == page.counts["header"] == 1
    names = [of.attributes["id"] for of in page.elements if "id" in of.attributes]
    assert len(set(names)) == len(names)
    links = [str(of.attributes["href"]) for of in page.named("a")]
    assert links
    leads = {link.removeprefix("#") for link in links}
    assert leads | {str(of.attributes["aria-labelledby"]) for of in page.named("section")} <= set(names)


def test_nothing_from_outside(page: Reader) -> None:
    """There is no script, no handler, no frame, and nothing that is loaded; the page itself forbids it."""
    assert set(page.counts) <= ALLOWED
    assert not [
        key for of in page.elements for key in of.attributes if key in {"src", "style"} or key[:2] == "on"
    ]
    assert "default-src 'none'" in str([of.attributes for of in page.named("meta")])
    (style,) = page.named("style")
    assert not re.search(r"url\(|@import|expression|<", style.text)


def test_tables_and_charts_say_what_they_are(page: Reader) -> None:
    """Each table has a caption and heads with a scope in every column; each chart words instead of it."""
    assert page.counts["caption"] == page.counts["table"] >= 9
    assert {of.attributes.get("scope") for of in page.named("th")} == {"col", "row", "rowgroup"}
    assert all(of.text.strip() for of in page.named("caption", "figcaption"))
    assert page.counts["figure"] == page.counts["svg"] == page.counts["figcaption"] >= 4
    assert page.counts["desc"] == page.counts["svg"]
    assert all(of.attributes["role"] == "img" for of in page.named("svg"))
    regions = [of for of in page.named("div") if of.attributes["class"] == "scroll"]
    assert len(regions) == page.counts["table"] + page.counts["figure"]
    assert all(of.attributes["tabindex"] == "0" and of.attributes["aria-label"] for of in regions)


def test_it_says_what_other_commands_say(ask: Call, demos: dict[str, Path], page: Reader) -> None:
    """The answer is that of options; orders, cautions and jobs are those of their commands.

    A caution that the season has too is dated by the jobs, as there.
    """
    site = demos["crooked-ladle-orchard"]
    items = [of.text for of in page.named("li")]
    answer = ask("options", site, "--format", "json").json
    for sentence in answer["sentences"][:4]:
        assert sentence.removeprefix("- ") in items
    orders = ask("orders", site, "--format", "json").json
    assert orders["cautions"]
    dated = {caution["key"]: caution for caution in ask("season", site, "--format", "json").json["cautions"]}
    for caution in (dated.get(of["key"], of) for of in orders["cautions"]):
        assert any(caution["text"] in item and caution["source"] in item for item in items)
    jobs = ask("season", site, "--format", "json").json["tables"][0]["rows"]
    soon = [job for job in jobs if job["on"] < "2028-03-01"]
    boxes = [of for of in page.named("span") if of.attributes["class"] == "box"]
    assert len(boxes) == len(soon) > 20
    groups = [of.text for of in page.named("th") if of.attributes["scope"] == "rowgroup"]
    weeks = ask("season", site, "--format", "json").json["tables"][1]["rows"]
    hours = {week["week"]: f": {week['hours']:.1f} h" for week in weeks if week["hours"]}
    assert {f"Week of {job['week']}{hours.get(job['week'], '')}" for job in soon} <= set(groups)
    cells = [of.text for of in page.named("td", "th")]
    assert all(row["way"] in cells and row["order_by"] in cells for row in orders["tables"][0]["rows"])


def test_figures_are_those_of_what_is_followed(demos: dict[str, Path], page: Reader) -> None:
    """Each figure of a stuff that is followed, of its crop and heap stands there with value, grade and source."""
    site = load(*read_bytes(str(demos["crooked-ladle-orchard"]))).site
    lines = figures_followed(decide(site).whole)
    known = Counter(line.of for line in lines)
    compost, needs = material("green compost"), [place.need("feed") for place in site.places]
    assert compost
    assert known["material green compost"] == len(compost.figures)
    assert known["heaps"] > 0
    crops = {key: figures for need in needs if need for key, figures in need.rests_on.items()}
    assert crops
    for key, figures in crops.items():
        assert known[key] == len(figures) > 0
    told = {of.text for of in page.named("td", "th", "li")}
    for line in [*lines, *general_figures()]:
        assert {line.name, line.figure.texts[1], line.figure.grade, line.source} <= told


def test_stuffs_with_figures_of_their_own_are_told_apart(call: Call) -> None:
    """Where two ways bring a stuff with different figures, both stand on the page."""
    places = [
        {"name": name, "kind": "bed", "shape": {"area": "4 m2"}, "ways": [f"heap {name}"],
         "needs": [{"dress": {"depth": "1 cm"}}]}
        for name in "ab"
    ]  # fmt: skip
    ways = [
        {"name": f"heap {name}", "make": {"bay": "1 m3", "turn_every": "2 weeks", "from": [
            {"material": "horse manure", "weekly": "200 L"}, {"material": brown, "weekly": "100 L"}]}}
        for name, brown in (("a", "straw"), ("b", "arborist chip"))
    ]  # fmt: skip
    head = {"site": "Two", "currency": "EUR", "start": "2027-03-01", "climate": {"annual_mean": "12 degC"}}
    done = call("report", "-", stdin=json.dumps({**head, "places": places, "ways": ways}).encode())
    assert done.code == 0, done.err
    found = read_page(done.text)
    titles = [of.text for of in found.named("th") if of.attributes["scope"] == "rowgroup"]
    assert "material home compost" in titles
    assert [title for title in titles if title.startswith("material home compost of heap ")]


def test_a_hostile_site_is_text(call: Call, small: Path) -> None:
    """Names and notes of a site file are text on its page, whatever they look like."""
    text = small.read_text("utf-8")
    for word in ("Small Field", "beds", "yard"):
        text = text.replace(f" {word}\n", f" {json.dumps(HOSTILE + word)}\n")
    text = text.replace(
        "price: 46", f"seller: {json.dumps(HOSTILE)}, notes: {json.dumps(HOSTILE)}, price: 46"
    )
    done = call("report", "-", stdin=text.encode("utf-8"))
    assert done.code == 0, done.err
    found = read_page(done.text)
    assert set(found.counts) <= ALLOWED
    assert found.named("h1")[0].text == f"{HOSTILE}Small Field"
    cells = [of.text for of in found.named("td", "th")]
    assert {f"{HOSTILE}beds", f"{HOSTILE}yard"} <= set(cells)
    assert any(f"seller {HOSTILE};" in of.text for of in found.named("p"))


def test_without_the_extra(
    environment: Callable[..., dict[str, str]], demos: dict[str, Path], document: str
) -> None:
    """It needs nothing of the extra, and gives the same bytes."""
    done = subprocess.run(
        [sys.executable, "-c", WITHOUT_EXTRA, "report", str(demos["crooked-ladle-orchard"])],
        env=environment(), capture_output=True, timeout=600, check=True,
    )  # fmt: skip
    assert done.stdout.decode("utf-8") == document


def test_files_values_and_codes(call: Call, small: Path, unusual: Path, tmp_path: Path) -> None:
    """-o writes what standard output gets, --set holds, --strict leaves with 4, and an unknown way with 3."""
    file = tmp_path / "page.html"
    done = call("report", small, "-o", file)
    assert (done.code, done.out) == (0, b"")
    assert file.read_bytes() == call("report", small).out
    assert file.read_bytes() != call("report", small, "--set", "places.beds.count=9").out
    assert "yd3" in call("report", small, "--measures", "customary").text
    assert call("report", unusual).code == 0
    strict = call("report", unusual, "--strict")
    assert strict.code == 4
    assert any(of.attributes.get("class") == "warnings" for of in read_page(strict.text).named("ul"))
    assert call("report", small, "--way", "nowhere").code == 3


def test_onto_the_site_is_refused(small: Path, refused: Callable[..., str]) -> None:
    """A page never takes the place of the site file."""
    assert "is the site file itself" in refused("report", small, "-o", small)


def test_a_plan_is_followed(ask: Call) -> None:
    """Where the file has a plan, the page says that it follows it."""
    planned = Path(__file__).parent / "sites" / "planned.yaml"
    found = read_page(ask("report", planned).text)
    assert any("Follows: your plan." in of.text for of in found.named("p"))


def test_where_nothing_is_put_on(call: Call, small: Path) -> None:
    """A site on which no way meets anything has a page too, which says so."""
    done = call("report", small, "--set", "ways.yard.buy.material=topsoil")
    assert done.code == 0, done.err
    found = read_page(done.text)
    assert any("Nothing is put on: no way meets a need" in of.text for of in found.named("li"))
    assert any("No caution" in of.text for of in found.named("p"))
