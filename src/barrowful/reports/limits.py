"""Limits of what is asked; and those given in the place of the file's, read as its keys are."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any

from barrowful.measures.problems import NOWHERE, ParseError, WrongUse, printable

if TYPE_CHECKING:
    from barrowful.site.load import ReadSite
    from barrowful.site.records import Site

#: Most days of each year that a plan can look at, and most years that a course can follow.
MOST_DAYS_A_YEAR, MOST_YEARS = 12, 100
#: How many draws ranges are made of where nothing else is said, the fewest and the most.
USUAL_DRAWS, FEWEST_DRAWS, MOST_DRAWS = 1024, 100, 100_000
#: The seed of draws where nothing else is said, and the largest.
USUAL_SEED, MOST_SEED = 1, 2**32 - 1


def with_limits(loaded: ReadSite, by: str | None, cash: str | None, hours: str | None) -> Site:
    """Return a site with these limits instead of its own, where they are given."""
    typed = {"by": by, "cash": cash, "hours": hours}
    given = {
        key: read_limit(loaded, f"--{key}", key, text) for key, text in typed.items() if text is not None
    }
    site = loaded.site
    day = given.get("by")
    if day is not None and day < site.start:
        raise WrongUse(f"--by {day} is before the site's start; give {site.start} or a later day")
    return replace(site, limits=replace(site.limits, **given))


def read_limit(loaded: ReadSite, option: str, key: str, text: str) -> Any:
    """Return what an option says, read as the key of ``limits`` is in the site file."""
    from barrowful.sitefile.keys.site import LIMITS
    from barrowful.sitefile.language.context import ReadContext

    field = LIMITS.by_key[key]
    context = ReadContext(option, loaded.site.currency, dict(loaded.measures))
    try:
        value = field.kind.of_text(text.strip(), NOWHERE, context, option)
    except ParseError as misread:
        right = "" if "write" in str(misread) else f'; write one such as "{field.example}"'
        raise WrongUse(printable(f"{option}: {misread}{right}")) from None
    return getattr(value, "size", value)
