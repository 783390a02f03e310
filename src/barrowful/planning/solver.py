"""The programme as the solver has it: columns, rows and what is to be least; whole numbers where asked for.

The solver is HiGHS. It works on one thread with a limit on nodes and none on time, so that the same
programme always has the same answer.
"""

from __future__ import annotations

import os
import sys
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from math import ceil, inf, isinf
from typing import Any, NamedTuple

from barrowful.measures.problems import WrongUse

#: What a column or row must have gained or lost to count: a setting of the solver.
TOLERANCE = 1e-7
#: How often it is looked up whether the grower wants it to stop [s].
LOOKS_UP = 0.1
#: How often the cost of whole numbers is spread, and the least part of one it is spread over.
SPREADS, LEAST_PART = 6, 0.02
#: By what share the cost of values may differ from what it is said to be: rounding.
ADDS_UP = 1e-6
#: What is less than this share of the largest in a row is rounding, and nothing.
SPECK = 1e-12


class Effort(NamedTuple):
    """How hard to look: nodes at most, and the share from the best at which to stop."""

    nodes: int
    gap: float = 0.0


@dataclass(frozen=True)
class Solved:
    """What is least and with which values, and the least that it could be at all; no values where none do."""

    values: tuple[float, ...]
    least: float
    bound: float
    stopped: bool  #: by the limit on nodes, or by the grower, before it was proven?

    @property
    def found(self) -> bool:
        """Say whether there is an answer at all."""
        return bool(self.values)

    def says_yes(self, column: int) -> bool:
        """Say whether a column that is yes or no is a yes."""
        return round(self.values[column]) == 1


class Programme:
    """A mixed-integer programme, built column by column and row by row, solved for one aim after another."""

    def __init__(self) -> None:
        self.most: list[float] = []
        self.whole: list[bool] = []
        #: Columns that are yes or no only once money is settled, with those of which any makes it a yes.
        self.waiting: dict[int, list[int]] = {}
        self.rows: list[tuple[dict[int, float], float, float]] = []
        self.interrupted = False  #: by the grower
        self.relaxed = 0.0  #: no more than the costs last looked at can come to
        self._solver: Any = None
        self._costs: Any = ()  #: of each column, as last looked at

    def column(self, most: float = inf, whole: bool = False) -> int:
        """Add a column from nothing to a most, and return its number."""
        self.most.append(most)
        self.whole.append(whole)
        return len(self.most) - 1

    def yes(self) -> int:
        """Add a column that is yes or no, and return its number."""
        return self.column(1.0, whole=True)

    def waits(self, because: Sequence[int] = ()) -> int:
        """Add a column that is yes or no only once it is decided: yes where there is any of some others."""
        column = self.column(1.0)
        self.waiting[column] = list(because)
        return column

    def decide(self, values: Sequence[float]) -> tuple[float, ...]:
        """Let what waited be yes or no from now on, and return values with these so."""
        import highspy

        decided = list(values)
        for column, because in self.waiting.items():
            decided[column] = float(any(values[other] > TOLERANCE for other in because))
            self.whole[column] = True
            if self._solver is not None:
                self._solver.changeColIntegrality(column, highspy.HighsVarType.kInteger)
        self.waiting = {}
        return tuple(decided)

    def row(self, each: Mapping[int, float], least: float = -inf, most: float = inf) -> None:
        """Add a row: what each of its columns counts is to be at least, and at most, so much in all."""
        entries = {column: value for column, value in each.items() if value}
        size = max((abs(value) for value in entries.values()), default=0.0)
        if not entries:
            if least > TOLERANCE or most < -TOLERANCE:
                entries, size = {self.column(0.0): 1.0}, 1.0  # nothing can meet it
            else:
                return
        scale = 1 / size
        scaled = {column: value * scale for column, value in entries.items() if abs(value) > SPECK * size}
        row = scaled, least * scale, most * scale
        self.rows.append(row)
        if self._solver is not None:
            columns, values = zip(*row[0].items(), strict=True)
            self._solver.addRow(row[1], row[2], len(columns), list(columns), list(values))

    def solve(self, costs: Mapping[int, float], effort: Effort, start: Sequence[float] = ()) -> Solved:
        """Return the values at which the costs of columns are least; ``start`` are values known to do."""
        self._aim_for(costs)
        return self._run(effort, start)

    def near(self, costs: Mapping[int, float], effort: Effort, start: Sequence[float]) -> Solved:
        """Return values at little cost, next to values that are known to do: no more than these.

        What a whole number costs is spread over as much as there is of it, a few times over; then only the
        whole numbers that are of use so, or in the values known, are looked at.
        """
        spread = dict(costs)
        self._solver.setOptionValue("solve_relaxation", True)
        for number in range(SPREADS):
            self._aim_for(spread)
            relaxed = self._run(effort, ())
            if number == 0 and relaxed.found:  # nothing is spread yet
                self.relaxed = relaxed.least
            values = relaxed.values or tuple(start)
            for column, whole in enumerate(self.whole):
                if whole and values[column] > TOLERANCE and costs.get(column, 0.0) > 0:
                    part = max(values[column], LEAST_PART)
                    spread[column] = costs[column] * ceil(values[column] - TOLERANCE) / part
        self._solver.setOptionValue("solve_relaxation", False)
        if self.interrupted:
            return Solved(tuple(start), inf, self.relaxed, stopped=True)
        of_use = (max(each) > TOLERANCE for each in zip(values, start, strict=True))
        idle = [column for column, used in enumerate(of_use) if self.whole[column] and not used]
        for column in idle:
            self._solver.changeColBounds(column, 0.0, 0.0)
        solved = self.solve(costs, effort, start)
        for column in idle:
            self._solver.changeColBounds(column, 0.0, self.most[column])
        return solved

    def fix(self, values: Sequence[float]) -> None:
        """Let all whole numbers be as they are in some values, for good."""
        for column, whole in enumerate(self.whole):
            if whole:
                value = round(values[column])
                self._solver.changeColBounds(column, value, value)

    def without(self, column: int, costs: Mapping[int, float], effort: Effort) -> Solved:
        """Return the values at which costs are least without a column, which stays out where any do."""
        self._solver.changeColBounds(column, 0.0, 0.0)
        solved = self.solve(costs, effort)
        if not solved.found:
            self._solver.changeColBounds(column, 0.0, self.most[column])
        return solved

    def _aim_for(self, costs: Mapping[int, float]) -> None:
        import numpy

        self._solver = self._solver or self._built()
        self._costs = numpy.zeros(len(self.most))
        for column, cost in costs.items():
            self._costs[column] = cost
        numbers = numpy.arange(len(self.most), dtype=numpy.int32)
        self._solver.changeColsCost(len(self.most), numbers, self._costs)

    def _run(self, effort: Effort, start: Sequence[float]) -> Solved:
        solver = self._solver
        solver.setOptionValue("mip_max_nodes", effort.nodes)
        solver.setOptionValue("mip_rel_gap", effort.gap)
        if start:
            self._begin_with(start)
        self._run_until_stopped()
        solved = _result(solver)
        if start and not self.interrupted and not self._adds_up(solved):
            solver.clearSolver()
            self._run_until_stopped()
            solved = _result(solver)
        return solved

    def _adds_up(self, solved: Solved) -> bool:
        """Say whether the values found cost what they are said to."""
        if not solved.found:
            return True
        cost = sum(value * each for value, each in zip(solved.values, self._costs, strict=True))
        return bool(abs(cost - solved.least) <= ADDS_UP * max(1.0, abs(cost)))

    def _begin_with(self, values: Sequence[float]) -> None:
        """Begin with whole numbers known to do; from more of them version 1.16.0 comes to wrong answers."""
        import numpy

        columns = [column for column, whole in enumerate(self.whole) if whole]
        known = numpy.array([float(round(values[column])) for column in columns])
        self._solver.setSolution(len(columns), numpy.array(columns, dtype=numpy.int32), known)

    def _run_until_stopped(self) -> None:
        """Run, and where the grower interrupts it keep the best so far."""
        solver = self._solver
        solver.HandleUserInterrupt = True
        running = solver.startSolve()
        try:
            while not solver.wait(LOOKS_UP)[0]:
                pass
        except KeyboardInterrupt:
            self.interrupted = True
            solver.cancelSolve()
            running.join()
        solver.HandleUserInterrupt = False

    def _built(self) -> Any:
        """Return a solver with the columns and rows there are."""
        import numpy

        highspy, solver = _solver()
        problem = highspy.HighsLp()
        problem.num_col_, problem.num_row_ = len(self.most), len(self.rows)
        problem.col_cost_ = numpy.zeros(len(self.most))
        problem.col_lower_ = numpy.zeros(len(self.most))
        problem.col_upper_ = numpy.array(self.most)
        problem.row_lower_ = numpy.array([least for _, least, _ in self.rows])
        problem.row_upper_ = numpy.array([most for _, _, most in self.rows])
        sizes = numpy.cumsum([0, *(len(entries) for entries, _, _ in self.rows)])
        problem.a_matrix_.format_ = highspy.MatrixFormat.kRowwise
        problem.a_matrix_.start_ = sizes.astype(numpy.int32)
        cells = [cell for entries, _, _ in self.rows for cell in entries.items()]
        problem.a_matrix_.index_ = numpy.array([column for column, _ in cells], dtype=numpy.int32)
        problem.a_matrix_.value_ = numpy.array([value for _, value in cells])
        kinds = highspy.HighsVarType
        problem.integrality_ = [kinds.kInteger if whole else kinds.kContinuous for whole in self.whole]
        solver.passModel(problem)
        return solver


def check_solver() -> None:
    """Raise :class:`WrongUse` without the extra, which says how to come by it."""
    _solver()


def _solver() -> tuple[Any, Any]:
    """Return the solver's module and a solver; :class:`WrongUse` without the extra."""
    try:
        with _quiet():
            import highspy

            solver: Any = highspy.Highs()
    except ImportError:
        raise WrongUse("a plan needs its solver: pip install 'barrowful[full]'") from None
    for name, value in (
        ("output_flag", False),
        ("threads", 1),
        ("mip_abs_gap", TOLERANCE),
        # it takes longer to look for a good answer apart than to come by one on the way to the best
        ("mip_heuristic_run_rins", False),
        ("mip_heuristic_run_rens", False),
        ("mip_heuristic_run_root_reduced_cost", False),
    ):
        solver.setOptionValue(name, value)
    return highspy, solver


@contextmanager
def _quiet() -> Iterator[None]:
    """Let nothing that is written to standard output come there: a solver may greet when it is first made."""
    sys.stdout.flush()
    try:
        kept = os.dup(1)
    except OSError:  # it is closed
        yield
        return
    nothing = os.open(os.devnull, os.O_WRONLY)
    try:
        os.dup2(nothing, 1)
        yield
    finally:
        os.dup2(kept, 1)
        os.close(kept)
        os.close(nothing)


def _result(solver: Any) -> Solved:
    import highspy

    status, info = solver.getModelStatus(), solver.getInfo()
    feasible = info.primal_solution_status == highspy.SolutionStatus.kSolutionStatusFeasible
    if not feasible:
        return Solved((), inf, inf, stopped=status != highspy.HighsModelStatus.kInfeasible)
    values = tuple(solver.getSolution().col_value)
    bound, least = info.mip_dual_bound, info.objective_function_value
    stopped = status != highspy.HighsModelStatus.kOptimal
    return Solved(values, least, least if isinf(bound) or not stopped else bound, stopped)
