"""The report of a what-if: the options of the site file and of each changed case."""

from __future__ import annotations

from collections.abc import Iterable

from barrowful.answers.cases import case_lines
from barrowful.answers.options import options as reckon
from barrowful.measures.problems import SiteProblems, WrongUse
from barrowful.reports.shared import report_of
from barrowful.site.load import LoadedSite, build
from barrowful.sitefile.text.cases import Case
from barrowful.sitefile.text.edit import set_values
from barrowful.tables.report import Report
from barrowful.tables.whatif import WHATIF


def whatif(loaded: LoadedSite, cases: Iterable[Case]) -> Report:
    """Return the options of the file and of each case, with the differences."""
    answers = [("base", reckon(loaded.site))]
    for name, changes in cases:
        document = set_values(loaded.document, changes)
        try:
            answers.append((name, reckon(build(document).site)))
        except SiteProblems as problems:
            raise WrongUse(f"{name}: {problems.problems[0].message}") from None
    return report_of("whatif", loaded, [WHATIF.table(case_lines(answers))])
