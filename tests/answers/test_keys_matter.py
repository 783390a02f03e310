"""Every key of the site file changes an answer: written otherwise, some command answers otherwise."""

from __future__ import annotations

import copy
import json
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
import yaml
from click.testing import CliRunner

from barrowful.cli.main import exit_code
from barrowful.sitefile.language.containers import Group
from barrowful.sitefile.products.outline import inner, lines

COMMANDS = ("options", "orders", "sizes", "ledger", "course", "heap", "check", "season")
#: Small sites, each of one subject, in which between them every key stands.
SITES = {
    path.stem: yaml.load(path.read_text(encoding="utf-8"), yaml.BaseLoader)
    for path in sorted(Path(__file__).with_name("key_sites").glob("*.yaml"))
}
#: What else a key may say, where that is no other number and no other switch.
OTHER: dict[str, tuple[Any, ...]] = {
    "ways.NAME.buy.seller": ("another",),
    "places.NAME.needs.fill.mix.compost": ("32..35 %",),
    "places.NAME.needs.fill.mix.soil": ("45..50 %",),
    "places.NAME.needs.fill.mix.sand": ("15..20 %",),
    "currency": ("GBP",),
    "hemisphere": ("south",),
    "climate.last_frost": ("05-20",),
    "climate.first_frost": ("09-25",),
    "climate.rain_months": (["11"],),
    "soil.phosphorus_test": ("low",),
    "soil.managed": ("bare",),
    "places.NAME.kind": ("pot", "bed"),
    "places.NAME.soil.ph": ("7.5",),
    "places.NAME.soil.phosphorus_test": ("very high",),
    "places.NAME.soil.managed": ("rested",),
    "places.NAME.ways": (["bags"],),
    "places.NAME.needs.feed.for": ("kale", "lettuce"),
    "places.NAME.limits.lift": (["suits"],),
    "places.NAME.harvest_from": ("09-15",),
    "limits.lift": (["suits"],),
    "ways.NAME.buy.material": ("manure compost", "hay"),
    "ways.NAME.buy.drop": ("road",),
    "ways.NAME.have.material": ("manure compost",),
    "ways.NAME.grow.plant": ("borage", "mustard"),
    "ways.NAME.grow.around": ("pears",),
    "ways.NAME.grow.grows_on": ("bed",),
    "ways.NAME.grow.next_planting": ("2027-04-30",),
    "ways.NAME.make.from.N.months": (["4", "5", "6"],),
    "ways.NAME.make.material": ("green compost",),
    "ways.NAME.make.from.N.way": ("other crew",),
    "ways.NAME.make.from.N.material": ("straw",),
    "materials.NAME.like": ("hay",),
    "materials.NAME.class": ("manure",),
    "materials.NAME.flags": (["coffee"],),
    "materials.NAME.basis": ("dry",),
    "plan.N.place": ("two",),
    "plan.N.need": ("cover",),
    "plan.N.way": ("other",),
    "history.N.place": ("dosed",),
    "history.N.way": ("other crew",),
    "ways.NAME.have.comes": ("11-20",),
    "history.N.material": ("manure compost",),
}

#: The keys that hold a value; a section matters by the keys in it.
KEYS = [line.path for line in lines() if not isinstance(inner(line.field.kind)[0], Group)]


def places_in(node: Any, path: str = "", at: tuple[Any, ...] = ()) -> Iterator[tuple[str, tuple[Any, ...]]]:
    """Yield every key of a site with where it stands, named as the description names it."""
    if isinstance(node, dict):
        for key, below in node.items():
            here = f"{path}.NAME" if path == "materials" else f"{path}.{key}" if path else key
            yield here, (*at, key)
            yield from places_in(below, here, (*at, key))
    elif isinstance(node, list) and any(isinstance(item, dict) for item in node):
        inside = path if path.endswith(".needs") else path + (".NAME" if path in ("places", "ways") else ".N")
        for index, item in enumerate(node):
            yield from places_in(item, inside, (*at, index))


def otherwise(path: str, value: Any) -> Iterator[Any]:
    """Yield other values for a key."""
    if path in OTHER:
        yield from (other for other in OTHER[path] if other != value)
    elif isinstance(value, list):
        yield from ([*value[:-1], other] for other in otherwise(path, value[-1]))
    elif isinstance(value, dict):
        yield from ({**value, key: other} for key in value for other in otherwise(path, value[key]))
    elif value in ("true", "false"):
        yield {"true": "false", "false": "true"}[value]
    elif re.fullmatch(r"\d{4}-\d{2}-\d{2}", value):
        yield from (f"{int(value[:4]) + more}{value[4:]}" for more in (1, -1))
    elif re.search("[0-9]", value):
        number = re.search(r"[0-9]+(\.[0-9]+)?", value)
        assert number is not None
        for times in (2, 0.5, 1.1):
            size = f"{float(number[0]) * times:g}"
            yield value[: number.start()] + size + value[number.end() :]
    else:
        yield f"{value} too"


def changed(site: dict[str, Any], at: tuple[Any, ...], value: Any) -> dict[str, Any]:
    """Return a site with another value somewhere."""
    other = copy.deepcopy(site)
    *above, last = at
    node = other
    for step in above:
        node = node[step]
    node[last] = value
    if at == ("currency",):
        other = json.loads(json.dumps(other).replace("EUR", value))
    return other


class Answers:
    """What the commands answer to a site, kept for the sites that are asked of again and again."""

    def __init__(self, folder: Path) -> None:
        self.file, self.known = folder / "field.yaml", dict[tuple[str, str], bytes]()

    def answer(self, site: dict[str, Any], command: str) -> bytes:
        """Return the JSON a command answers; nothing where it answers nothing."""
        text = json.dumps(site)
        if (text, command) not in self.known:
            self.file.write_text(text, encoding="utf-8")
            with CliRunner().isolation() as (out, err, _):
                code = exit_code([command, str(self.file), "--format", "json"])
                assert code in {0, 1, 3}, f"{command}: {err.getvalue().decode()}"
                self.known[text, command] = b"" if code == 1 else out.getvalue() or b"no answer"
        return self.known[text, command]

    def tell_apart(self, site: dict[str, Any], other: dict[str, Any]) -> str:
        """Return the first command that answers two sound sites differently, or nothing."""
        for command in COMMANDS:
            one, two = self.answer(site, command), self.answer(other, command)
            if not two:
                return ""
            if one != two:
                return command
        return ""


@pytest.fixture(scope="module")
def answers(tmp_path_factory: pytest.TempPathFactory) -> Answers:
    """Give the answers of the commands."""
    return Answers(tmp_path_factory.mktemp("keys"))


@pytest.mark.parametrize("name", SITES)
def test_the_sites_are_sound(answers: Answers, name: str) -> None:
    """Each site is read without a problem."""
    assert answers.answer(SITES[name], "options")


def value_at(site: dict[str, Any], at: tuple[Any, ...]) -> Any:
    """Return the value that stands somewhere in a site."""
    node: Any = site
    for step in at:
        node = node[step]
    return node


def written_otherwise(path: str) -> Iterator[tuple[dict[str, Any], dict[str, Any]]]:
    """Yield each site with a key, and the same with another value of that key."""
    for site in SITES.values():
        for key, at in places_in(site):
            if key == path:
                yield from ((site, changed(site, at, value)) for value in otherwise(path, value_at(site, at)))


@pytest.mark.parametrize("path", KEYS)
def test_a_key_changes_an_answer(answers: Answers, path: str) -> None:
    """Written otherwise in one of the sites, and nothing else with it, a command answers otherwise."""
    pairs = list(written_otherwise(path))
    assert pairs, "no site has the key"
    assert any(answers.tell_apart(site, other) for site, other in pairs)
