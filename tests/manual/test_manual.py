"""The manual is true: its blocks print what stands there, its commands are known, its links lead somewhere."""

from __future__ import annotations

import json
import re
import shlex
from collections.abc import Iterator
from functools import cache

import click
import pytest
import yaml
from console import BLOCK, PAGES, ROOT, Folder, agrees, page_calls, retaken

from barrowful.cli.main import cli
from barrowful.site.load import load

TEXTS = {name: path.read_text("utf-8") for name, path in PAGES.items()}
FENCED = re.compile(r"^ *```(\w*)\n(.*?)^ *```$", re.MULTILINE | re.DOTALL)
LINK = re.compile(r"\[[^\]]*\]\(([^)\s]+)\)")


@pytest.mark.parametrize("name", [name for name, text in TEXTS.items() if BLOCK.search(text)])
def test_console_blocks_print_what_stands_there(name: str, tmp_path_factory: pytest.TempPathFactory) -> None:
    """Each command of a page, run in a folder with the demo sites, prints what stands under it."""
    folder, left = Folder(tmp_path_factory.mktemp("page")), []
    for call in page_calls(TEXTS[name]):
        if call.missing:
            left += call.missing
            continue
        now = folder.run(call.command)
        if not agrees(call.printed, now):
            prints = "\n".join(retaken(call.printed, now).lines)
            pytest.fail(
                f"{name}: $ {call.command}\nprints\n{prints}\nIf so: python tests/manual/retake.py {name}"
            )
    for drawn in re.findall(r"!\[[^\]]*\]\((\S+\.svg)\)", TEXTS[name]):
        picture = (PAGES[name].parent / drawn).resolve()
        assert (folder.path / picture.name).read_bytes() == picture.read_bytes()
    if left:
        pytest.skip(
            f"{name} agrees, but {len(left)} commands were not run: there is no {', '.join(set(left))} here"
        )


def commands(text: str) -> Iterator[str]:
    """Yield the calls of barrowful in the blocks for a shell and in the words of a page."""
    for kind, body in FENCED.findall(text):
        if kind == "sh":
            for line in re.sub(r"\\\n", " ", body).splitlines():
                yield from re.findall(r"(?:^|&& |[/\"] ?)(barrowful\"? .*?)(?= *(?:$|&&|[|>#]))", line)
    yield from re.findall(r"`(barrowful\s[^`]+)`", FENCED.sub("", text))


def refused(command: str) -> str:
    """Return why the command line would not take the words of a command; nothing where it takes them."""
    whole = command.replace('barrowful"', "barrowful")
    name, *words = shlex.split(whole + '"' * (whole.count('"') % 2))[
        1:
    ]  # what a shell completes is not closed
    if name.startswith("-"):
        return ""
    try:
        known = cli.get_command(click.Context(cli), name)
        if known is None:
            return f"there is no command {name}"
        known.make_context(name, [word for word in words if word != "..."])
    except click.exceptions.Exit:  # --help
        return ""
    except click.ClickException as wrong:
        return wrong.format_message()
    return ""


@pytest.mark.parametrize("name", TEXTS)
def test_every_command_that_is_named_is_known(name: str) -> None:
    """The command line knows each command and option that stands in a block or in the words of a page."""
    wrong = {command: refused(command) for command in commands(TEXTS[name])}
    assert not {command: why for command, why in wrong.items() if why}


@pytest.mark.parametrize("name", [name for name, text in TEXTS.items() if "```yaml" in text])
def test_pieces_of_a_site_file_are_sound(name: str) -> None:
    """What a page shows of a site file can stand in one: in a demo site, beside what that has."""
    for kind, body in FENCED.findall(TEXTS[name]):
        if kind == "yaml":
            site = yaml.load(
                (ROOT / "demo" / "crooked-ladle-orchard.yaml").read_text("utf-8"), yaml.BaseLoader
            )
            for key, piece in (yaml.load(body, yaml.BaseLoader) or {}).items():
                site[key] = {**site[key], **piece}
            load(json.dumps(site).encode(), name)


def test_a_command_that_is_not_known_is_found() -> None:
    """A slip in a command, in an option or in a word that is one of a few is told; all are looked at."""
    page = "```sh\nbarrowful optoins x.yaml && barrowful check x.yaml --formt csv > x\n```\n`barrowful sizes --format\ncvs`"
    found = list(commands(page))
    assert found == [
        "barrowful optoins x.yaml",
        "barrowful check x.yaml --formt csv",
        "barrowful sizes --format\ncvs",
    ]
    assert all(map(refused, found))
    assert len(list(commands(TEXTS["README.md"]))) >= 6


@cache
def anchors(text: str) -> set[str]:
    """Return what the headings of a page are called in links."""
    heads = re.findall(r"^#+ (.+)$", FENCED.sub("", text), re.MULTILINE)
    return {re.sub(r"[^\w\- ]", "", head.lower()).replace(" ", "-") for head in heads}


@pytest.mark.parametrize("name", TEXTS)
def test_every_link_leads_somewhere(name: str) -> None:
    """Each link of a page leads to a file of the project, and to a heading that is there."""
    for link in LINK.findall(FENCED.sub("", TEXTS[name])):
        if link.startswith(("http://", "https://")):
            continue
        path, _, anchor = link.partition("#")
        target = (PAGES[name].parent / path).resolve() if path else PAGES[name]
        assert target.exists(), f"{name}: {link}"
        assert target.is_relative_to(ROOT), f"{name}: {link}"
        assert not anchor or anchor in anchors(target.read_text("utf-8")), f"{name}: {link}"


def test_every_page_is_reached_from_the_front_page() -> None:
    """The front page of the manual links to every page of it, and README to the front page."""
    linked = {link.partition("#")[0] for link in LINK.findall(TEXTS["docs/README.md"])}
    assert linked >= {path.name for path in (ROOT / "docs").glob("*.md")} - {"README.md"}
    assert "docs/README.md" in LINK.findall(TEXTS["README.md"])


PRINTED = (
    "all in",
    "...",
    "way   cash",
    "----  ----",
    "yard   148",
    "bags    45",
    "...",
    "Proven: least, ...",
)


@pytest.mark.parametrize(
    ("now", "then", "sure"),
    [
        (["all in", "1", *PRINTED[2:6], "", "Proven: least, so"], PRINTED, True),
        (
            ["all in", "way    cash", "-----  -----", "yard    149", "chip      3", "bags     46", "x", "Proven: least, 1"],
            ["all in", "...", "way    cash", "-----  -----", "yard    149", "chip      3", "bags     46", "...", "Proven: least, ..."],
            True,
        ),
        (
            ["all in", "2027-03-01  1", "way   cash", "yard   148", "Proven: least, 2"],
            ["all in", "...", "way   cash", "yard   148", "...", "Proven: least, ..."],
            False,
        ),
        (["nothing", "can be met"], ["nothing", "..."], False),
    ],
)  # fmt: skip
def test_what_is_left_out_is_left_out_again(now: list[str], then: list[str], sure: bool) -> None:
    """Taken anew a block keeps each run from its first line to its last, and says where one is not there."""
    taken = retaken(PRINTED, now)
    assert taken == (list(then), sure)
    assert agrees(PRINTED, now) is (then == PRINTED)
    assert agrees(then, now)
    assert retaken((), now) == (now, True)
    assert retaken(("...",), now) == (["..."], True)


def test_a_row_is_found_by_its_day() -> None:
    """Of rows that differ by their numbers alone that of the same day is kept, in a table that moved."""
    rows = [f"beds  20{year}-03-01   {year}.5" for year in (27, 28, 29)]
    printed = ("...", "beds  2028-03-01   9.5", "...")
    assert retaken(printed, rows) == (["...", rows[1], "..."], True)
