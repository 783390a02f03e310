"""The screens that are kept as files: which views of which demo, on which widths, in which measures."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterable, Iterator
from contextlib import chdir
from dataclasses import replace
from datetime import date
from functools import cache, partial
from pathlib import Path
from unittest.mock import patch

from click.testing import CliRunner

import barrowful
from barrowful.cli.common import Output
from barrowful.cli.main import exit_code
from barrowful.measures.telling import told_in
from barrowful.reports.plan import PlanRequest, find
from barrowful.reports.plan import plan as plan_report
from barrowful.reports.season import season
from barrowful.reports.whatif import against, break_evens, whatif
from barrowful.site.load import LoadedSite
from barrowful.sitefile.text.cases import cases_of
from barrowful.tables.formats import FORMATS
from barrowful.tables.report import Look, Report

DEMO = Path(__file__).parents[2] / "demo"
KEPT = Path(__file__).parents[1] / "screens"
DEMOS = sorted(path.stem for path in DEMO.glob("*.yaml"))
ORCHARD, TERRACES, YARD, GROUND = DEMOS
#: A site whose plan of least cost is the only one, whatever the solver.
HEDGE = "one-hedge"
#: Demos whose plans are looked at.
PLANNED = {ORCHARD, YARD, GROUND}
WIDTHS = (80, 100, 120)
MEASURES = ("metric", "customary")
View = Callable[[LoadedSite], Report]


def _season(by: str) -> View:
    return lambda site: season(site, site.site.start, date.max, by=by)


@cache
def _found(demo: str) -> View:
    """Return what reports the plan of a demo, which is found once."""
    found = find(replace(loaded(demo).site, plan=()), PlanRequest())
    return lambda site: plan_report(found, site)


def _other(site: LoadedSite) -> Report:
    """Return a site beside one with more of its first place."""
    told = (DEMO / f"{GROUND}.yaml").read_text("utf-8").replace("count: 24", "count: 30")
    return against(site, barrowful.load(told.encode(), "wider.yaml"), "wider.yaml")


#: View -> what makes it. These are kept of every demo.
VIEWS: dict[str, View] = {
    "options": barrowful.options,
    "sizes": barrowful.sizes,
    "orders": barrowful.orders,
    "season": _season("week"),
    "heap": barrowful.heap,
    "course": barrowful.course,
    "ledger": barrowful.ledger,
}
#: Other looks at the same answers: these are held to the same rules on every demo, and kept of one.
VARIANTS: dict[str, tuple[str, View]] = {
    "options by place": (TERRACES, partial(barrowful.options, by="place")),
    "orders all": (YARD, partial(barrowful.orders, every=True)),
    "season by month": (YARD, _season("month")),
    "season by place": (YARD, _season("place")),
    "heap recipes": (TERRACES, partial(barrowful.heap, recipes=True)),
    "course monthly": (YARD, partial(barrowful.course, monthly=True, years=1)),
    "ledger done": (ORCHARD, lambda site: barrowful.ledger(site).only("done")),
}
#: What-ifs, each of one demo.
WHAT_IFS: dict[str, tuple[str, View]] = {
    "whatif set": (
        GROUND,
        lambda site: whatif(site, cases_of(["places.figs.count=30"], [], [], site.measures)),
    ),
    "whatif vary": (
        ORCHARD,
        lambda site: whatif(
            site, cases_of([], [], ["ways.yard compost.buy.price=40..80 EUR/m3:3"], site.measures)
        ),
    ),
    "whatif break-even": (
        YARD,
        lambda site: break_evens(site, ["ways.depot compost.buy.price=20..40 GBP/m3:9"]),
    ),
    "whatif against": (GROUND, _other),
}
#: Commands that answer something else than a site, and drawings: what is typed, beside the kept files.
COMMANDS: dict[str, tuple[str, ...]] = {
    "heap of": ("heap", "--of", "12 bucket coffee grounds", "--of", "straw", "--to-cn", "30"),
    "figures": ("figures", "green compost"),
    "explain": ("explain", "price"),
    "check": ("check", "spoilt.yaml"),
    "options chart": ("options", f"../../demo/{GROUND}.yaml", "--chart"),
    "season chart": ("season", f"../../demo/{YARD}.yaml", "--month", "2027-03", "--chart"),
}
#: Demos that grow or make nothing in a heap have no screen of one.
WITHOUT_HEAP = {GROUND}


@cache
def loaded(demo: str) -> LoadedSite:
    """Return a demo."""
    return barrowful.load((KEPT if demo == HEDGE else DEMO) / f"{demo}.yaml")


def reports(demo: str, make: View) -> Iterator[tuple[str, Report]]:
    """Yield what a view of a demo reports, worked out once for each of the measures."""
    for measures in MEASURES:
        with told_in(measures):
            report = make(loaded(demo))
        yield measures, report


def look(report: Report, width: int, measures: str) -> str:
    """Return a report as it looks on a screen."""
    return FORMATS["table"].write(report, Look(measures, width=width))


@cache
def typed(view: str, width: int, measures: str) -> str:
    """Return what a command of these shows on a terminal so wide."""
    terminal = patch.object(Output, "on_terminal", new=True)
    with chdir(KEPT), terminal, CliRunner().isolation(env={"COLUMNS": str(width)}) as (out, _, _):
        code = exit_code([*COMMANDS[view], "--measures", measures])
        sys.stdout.flush()
        said = out.getvalue().decode("utf-8")
    assert code == (view == "check"), view
    return said


def typed_text(view: str) -> str:
    """Return the text that keeps what a command shows: each look under its heading."""
    looks = ((measures, width) for measures in MEASURES for width in WIDTHS)
    return "\n".join(
        f"{heading(view, width, measures)}\n{typed(view, width, measures)}" for measures, width in looks
    )


def heading(view: str, width: int, measures: str) -> str:
    """Return the line above a look in the file that keeps it."""
    return f"======== {view}: {width} columns, {measures} ========"


def kept_views(demo: str) -> dict[str, View]:
    """Return the views of a site that are kept."""
    if demo == HEDGE:
        return {"plan": partial(barrowful.plan, frontier=True, binds=True)}
    views = {name: view for name, view in VIEWS.items() if not _no_heap(name, demo)}
    return views | {name: view for name, (where, view) in {**VARIANTS, **WHAT_IFS}.items() if where == demo}


def other_views(demo: str) -> dict[str, View]:
    """Return the views of a demo that are looked at and not kept: a plan of theirs goes by the solver."""
    views = {
        name: view for name, (where, view) in VARIANTS.items() if where != demo and not _no_heap(name, demo)
    }
    return views | ({"plan": lambda site: _found(demo)(site)} if demo in PLANNED else {})


def _no_heap(view: str, demo: str) -> bool:
    return view.startswith("heap") and demo in WITHOUT_HEAP


def file_of(demo: str, view: str) -> Path:
    """Return the file that keeps a view of a demo."""
    return KEPT / demo / f"{view.replace(' ', '-')}.txt"


def text_of(view: str, made: Iterable[tuple[str, Report]]) -> str:
    """Return the text that keeps a view: each look under its heading."""
    return "\n".join(
        f"{heading(view, width, measures)}\n{look(report, width, measures)}"
        for measures, report in made
        for width in WIDTHS
    )
