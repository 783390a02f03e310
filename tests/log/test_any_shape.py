"""Sound files of any shape: the entry is added at the end of the history and nothing else is touched."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import Any

import yaml
from draws import draws
from hypothesis import HealthCheck, given
from hypothesis import strategies as st
from shapes import COMMENTS, EDGE, HISTORY, plain, sites

from barrowful.cli.log import adder
from barrowful.site.load import load

ENTRY = {"date": "2027-04-12", "place": "it's, a [bed]", "material": "straw", "amount": "18 barrow"}


def kept(old: str, new: str) -> bool:
    """Say whether every letter of a text is in another, in order; nothing may be written out as an empty list."""
    old = re.sub(r"(history[\"']?\s*:)\s*(\[\s*\]|~|null)", r"\1", old)
    letters = iter(re.sub(r"\s", "", new))
    return all(letter in letters for letter in re.sub(r"\s", "", old))


@draws(250, suppress_health_check=[HealthCheck.too_slow])
@given(sites(HISTORY), st.sampled_from(("\n", "\n", "\r\n", "\r")), st.booleans())
def test_any_sound_file_gets_the_entry(text: str, newline: str, mark: bool) -> None:
    """The file holds one entry more, reads back the same otherwise, and every comment and line is there still."""
    text = text.replace(EDGE, "")
    data = (b"\xef\xbb\xbf" if mark else b"") + text.replace("\n", newline).encode()
    new = adder("field.yaml", ENTRY)(data)
    after = new.decode("utf-8")
    assert after.startswith("\ufeff") is mark
    after = after.removeprefix("\ufeff")
    assert newline == "\n" or "\n" not in after.replace(newline, "")
    after = after.replace(newline, "\n")
    before, grown = plain(text), plain(after)
    history = before.pop("history", "")
    assert grown.pop("history") == [*(history if isinstance(history, list) else []), ENTRY]
    assert grown == before
    assert kept(text, after)
    for comment in COMMENTS:
        assert after.count(comment) >= text.count(comment)
    site = load(new, "field.yaml").site
    assert replace(site, history=()) == replace(site_without_history(before), history=())


def site_without_history(keys: dict[str, Any]) -> Any:
    """Return the site of plain keys and values."""
    return load(yaml.safe_dump(keys).encode(), "field.yaml").site
