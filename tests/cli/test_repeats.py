"""An option of one value is given once: of two the last would hold, and nothing would say so."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import click
import pytest

from barrowful.cli.main import COMMANDS, cli

Call = Callable[..., Any]


def options_of(name: str) -> list[click.Option]:
    """Return the options of a command, but those that only switch something on."""
    command = cli.get_command(click.Context(cli), name)
    assert command is not None
    every = [option for option in command.params if isinstance(option, click.Option)]
    return [option for option in every if option.secondary_opts or not option.is_flag]


ONCE = [(name, of.opts[0]) for name in COMMANDS for of in options_of(name) if not of.multiple]


@pytest.mark.parametrize(("name", "option"), ONCE)
def test_given_twice(name: str, option: str, call: Call) -> None:
    """Every such option of every command is refused in a sentence, before anything is read."""
    value = [] if option == "--dug" else ["x"]
    done = call(name, option, *value, option, *value)
    assert (done.code, done.out) == (2, b"")
    assert done.err.startswith("barrowful: ")
    assert "is given 2 times; give it once" in done.err
    assert option in done.err


@pytest.mark.parametrize(
    "words",
    [
        ("options", "--set", "start=2027-03-01", "--set", "start=2027-04-01"),
        ("whatif", "--case", "a:start=2027-03-01", "--case", "a:start=2027-04-01"),
        ("heap", "--of", "1 tub straw", "--measure", "tub=10 L", "--measure", "tub = 20 L"),
        ("log", "x.yaml", "--date", "2027-03-01", "--dug", "--on-top"),
    ],
)
def test_one_thing_told_twice(words: tuple[str, ...], call: Call) -> None:
    """Of options that may be repeated none says twice what the same thing is; nor do two that exclude each other."""
    done = call(*words)
    assert (done.code, done.out) == (2, b"")
    assert done.err.endswith("give it once\n")


def test_what_may_be_repeated(call: Call, small: Path) -> None:
    """Other paths, other cases of a path, and a plain switch are taken as often as they stand."""
    price, other = "ways.yard.buy.price=40 EUR/m3", "places.beds.count=3"
    assert call("options", small, "--set", price, "--set", other, "--ranges", "--ranges").code == 0
    assert (
        call("whatif", small, "--case", f"a:{price}", "--case", f"b:{price}", "--case", f"a:{other}").code
        == 0
    )
