"""Soil-amendment budgets: amounts, orders, money, hours and waiting for growers.

What stands in ``__all__`` is the door for scripts and notebooks; it is loaded when it is first used.
"""

from __future__ import annotations

__version__ = "0.1.0"

TYPE_CHECKING = False  # as in typing, which takes longer to load than all of this
if TYPE_CHECKING:
    from barrowful.library import (
        BarrowfulError,
        CannotMeet,
        LoadedSite,
        Problem,
        Report,
        SiteProblems,
        Table,
        WrongUse,
        course,
        heap,
        ledger,
        load,
        options,
        orders,
        plan,
        season,
        sizes,
        whatif,
    )

__all__ = (
    "BarrowfulError",
    "CannotMeet",
    "LoadedSite",
    "Problem",
    "Report",
    "SiteProblems",
    "Table",
    "WrongUse",
    "course",
    "heap",
    "ledger",
    "load",
    "options",
    "orders",
    "plan",
    "season",
    "sizes",
    "whatif",
)


def __getattr__(name: str) -> object:
    """Return what the door has by a name, loading it now."""
    if name not in __all__:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    from barrowful import library

    globals()[name] = found = getattr(library, name)
    return found


def __dir__() -> list[str]:
    """Return the names there are, loaded or not."""
    return sorted({*globals(), *__all__})
