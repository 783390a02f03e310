"""Warnings of the cases of a what-if: those that the file as it stands does not give, of a kind once."""

from __future__ import annotations

from barrowful.answers.cases import CaseAnswer, Standing
from barrowful.answers.choices import PLAN
from barrowful.answers.plan_warnings import plan_warnings
from barrowful.measures.problems import Problem


class CaseWarnings:
    """Warnings by kind: the first case that gives one, and how many more do."""

    def __init__(self, standing: Standing) -> None:
        case = standing.case
        self.known = {self._kind(of) for of in case.loaded.warnings}
        self.known |= {self._of_plan(text) for text in plan_warnings(case.followed)}
        self.told: dict[tuple[str, str], list[str]] = {}

    def add(self, case: CaseAnswer) -> None:
        """Take in the warnings of a case."""
        given = {self._kind(of): str(of) for of in case.loaded.warnings}
        given |= {self._of_plan(text): text for text in plan_warnings(case.followed)}
        for kind, text in given.items():
            if kind not in self.known:
                self.told.setdefault(kind, []).append(f"{case.name}: {text}")

    @staticmethod
    def _kind(of: Problem) -> tuple[str, str]:
        """Return what warnings of one kind share: the code, and what it is about."""
        return of.code, of.message.partition(":")[0]

    @staticmethod
    def _of_plan(text: str) -> tuple[str, str]:
        """Return what warnings on a plan of one kind share: that it is over limits, else all they say."""
        title, named, _ = text.partition(":")
        return (PLAN, "") if named and title == PLAN else (text, "")

    def lines(self) -> list[str]:
        """Return a line for each kind: the first case with its warning, and in how many more it is given."""
        return [
            f"{first}{f', and in {len(more)} more case' + 's' * (len(more) > 1) if more else ''}"
            for first, *more in self.told.values()
        ]
