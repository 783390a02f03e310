"""``barrowful options``: the main job."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import click

from barrowful.cli.common import answer, load_site, output_options, report_of, settable_site, take_output

if TYPE_CHECKING:
    from barrowful.answers.cautions import CautionInForce
    from barrowful.answers.options import Answer
    from barrowful.tables.report import Table


@click.command("options")
@settable_site
@click.option(
    "--by",
    type=click.Choice(["way", "place"]),
    default="way",
    show_default=True,
    help="A row for each way, or for each way and place.",
)
@output_options()
def command(site: str | None, sets: tuple[str, ...], by: str, **options: Any) -> int:
    """Each way applied to the needs it can serve: order, cash, hours, waiting and result.

    Example: barrowful options mysite.yaml --measures customary
    """
    from barrowful.answers.advice import advice
    from barrowful.answers.cautions import cautions_for
    from barrowful.answers.choices import followed, plan_hint
    from barrowful.answers.lines import option_lines
    from barrowful.answers.options import options as reckon
    from barrowful.answers.orders import plan_warnings
    from barrowful.soil.present import how_kept
    from barrowful.tables.cautions import caution_notes
    from barrowful.tables.options import BY_PLACE, OPTIONS

    output = take_output(options, site)
    loaded = load_site(site, sets)
    found = reckon(loaded.site, by_place=by == "place")
    tables = [(BY_PLACE if by == "place" else OPTIONS).table(option_lines(found))]
    sentences: list[str] = []
    first: tuple[str, ...] = ()
    warnings: list[str] = []
    calling: list[CautionInForce] = []
    if by == "way":
        beside, sentences = _whole_site(found)
        whole = followed(found)
        sentences = [*plan_hint(whole), *sentences]
        tables, first, warnings = tables + beside, advice(whole), plan_warnings(whole)
        calling = cautions_for(found, whole.together.options())
    sentences += how_kept(place for place in loaded.site.places if place.need("raise"))
    told = {each.caution.key for each in calling}
    calling += [each for each in cautions_for(found) if each.caution.key not in told]
    calling.sort(key=lambda each: -each.caution.severity)  # of equal ones those of what is followed are first
    notes = caution_notes(calling, output.shows_sources)
    report = report_of("options", loaded, tables, warnings, sentences=sentences, answer=first, cautions=notes)
    return answer(report, output)


def _whole_site(found: Answer) -> tuple[list[Table], list[str]]:
    """Return the tables beside the options, and what is said under them."""
    from barrowful.answers.choices import choices, whole_site
    from barrowful.answers.growing import growing_lines
    from barrowful.answers.lines import whole_lines
    from barrowful.tables.choices import CHOICES
    from barrowful.tables.growing import GROWING
    from barrowful.tables.whole_site import WHOLE_SITE

    plain, growing = choices(found), growing_lines(found.supplies.values())
    tables = [WHOLE_SITE.table(whole_lines(found.site, whole_site(found)))]
    tables += [GROWING.table(growing)] if growing else []
    return [*tables, CHOICES.table(plain)], [choice.sentence for choice in plain]
