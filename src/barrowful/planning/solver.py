"""The programme as the solver has it: columns, rows, what is to be least; whole numbers where asked for."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from math import ceil, inf
from typing import Any

from barrowful.planning.columns import TOLERANCE, Columns
from barrowful.planning.engine import new_engine, result_of
from barrowful.planning.relaxed import Part, Relaxed
from barrowful.planning.solved import Effort, Solved

#: How often it is looked up whether the grower wants it to stop [s].
LOOKS_UP = 0.1
#: How often the cost of whole numbers is spread, and the least part of one it is spread over.
SPREADS, LEAST_PART = 6, 0.02
#: By what share the cost of values may differ from what it is said to be: rounding.
ADDS_UP = 1e-6


class Programme(Columns):
    """A mixed-integer programme, solved for one aim after another."""

    def __init__(self) -> None:
        super().__init__()
        self.interrupted = False  #: by the grower
        self.relaxed = 0.0  #: no more than the costs last looked at can come to
        self._solver: Any = None
        self._costs: Any = ()  #: of each column, as last looked at

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
        """Add a row, to what the solver knows already too."""
        before = len(self.rows)
        super().row(each, least, most)
        for entries, lowest, highest in self.rows[before:] if self._solver is not None else ():
            self._solver.addRow(lowest, highest, len(entries), [*entries.keys()], [*entries.values()])

    def solve(self, costs: Mapping[int, float], effort: Effort, start: Sequence[float] = ()) -> Solved:
        """Return the values at which the costs of columns are least; ``start`` are values known to do."""
        self._aim_for(costs)
        return self._run(effort, start)

    def near(
        self,
        costs: Mapping[int, float],
        effort: Effort,
        start: Sequence[float] = (),
        among: Collection[int] = (),
    ) -> Solved:
        """Return values at little cost; ``start`` are values known to do, and no more than these.

        What a whole number costs is spread over as much as there is of it, a few times over. Of the columns
        ``among`` others only those are looked at that are of use so, or in the values known.
        """
        used = self._of_use(costs, effort)
        if self.interrupted or not used:
            return Solved(tuple(start), inf, self.relaxed, stopped=self.interrupted)
        used |= {column for column, value in enumerate(start) if value > TOLERANCE}
        return self.without([column for column in among if column not in used], costs, effort, start)

    def fewer(
        self, costs: Mapping[int, float], effort: Effort, start: Sequence[float], among: Collection[int]
    ) -> Solved:
        """Return values as :meth:`near` does, looked for afresh: quicker where the least is far less."""
        used = self._of_use(costs, effort) | {c for c, value in enumerate(start) if value > TOLERANCE}
        known = sum(start[column] * cost for column, cost in costs.items())
        if not self.interrupted:
            solved = self.without([column for column in among if column not in used], costs, effort)
            if solved.found and solved.least <= known + TOLERANCE:
                return solved
        return Solved(tuple(start), known, self.relaxed, stopped=True)

    def _of_use(self, costs: Mapping[int, float], effort: Effort) -> set[int]:
        """Return the columns that are of use where no number need be whole; none where nothing does so."""
        spread, used = dict(costs), set[int]()
        self._solver = self._solver or self._built()
        self._solver.setOptionValue("solve_relaxation", True)
        for number in range(SPREADS):
            self._aim_for(spread)
            relaxed = self._run(effort, ())
            if number == 0 and relaxed.found:  # nothing is spread yet
                self.relaxed = relaxed.least
            if not relaxed.found or self.interrupted:
                break
            if number in {0, SPREADS - 1}:
                used |= {column for column, value in enumerate(relaxed.values) if value > TOLERANCE}
            for column, whole in enumerate(self.whole):
                value = relaxed.values[column]
                if whole and value > TOLERANCE and costs.get(column, 0.0) > 0:
                    spread[column] = costs[column] * ceil(value - TOLERANCE) / max(value, LEAST_PART)
        self._solver.setOptionValue("solve_relaxation", False)
        return used

    def demand(self, columns: Collection[int], least: float = 1.0) -> None:
        """Let columns that are yes or no be yes from now on; or either again, with nothing as the least."""
        self._solver = self._solver or self._built()
        for column in columns:
            self._solver.changeColBounds(column, least, self.most[column])

    def fix(self, values: Sequence[float]) -> None:
        """Let all whole numbers be as they are in some values, for good."""
        for column in self.wholes():
            value = round(values[column])
            self._solver.changeColBounds(column, value, value)
        self._solver.setOptionValue("solve_relaxation", True)

    def wholes(self) -> list[int]:
        """Return the columns that are to be whole."""
        return [column for column, whole in enumerate(self.whole) if whole]

    def without(
        self,
        columns: Collection[int],
        costs: Mapping[int, float],
        effort: Effort,
        start: Sequence[float] = (),
    ) -> Solved:
        """Return the values at which costs are least without any of some columns."""
        self._solver = self._solver or self._built()
        for column in columns:
            self._solver.changeColBounds(column, 0.0, 0.0)
        solved = self.solve(costs, effort, start)
        for column in columns:
            self._solver.changeColBounds(column, 0.0, self.most[column])
        return solved

    def without_wholes(self, costs: Mapping[int, float], limit: float) -> Relaxed:
        """Return the programme where no number need be whole, to be looked at for costs under a limit."""
        self._aim_for(costs)
        return Relaxed(self._solver, limit)

    def within(self, part: Part, costs: Mapping[int, float], effort: Effort, limit: float) -> Solved:
        """Return the values at which costs are least in a part, where they come to less than a limit."""
        self._aim_for(costs)
        solver = self._solver
        problem = solver.getLp()
        least, most = problem.col_lower_, problem.col_upper_  # each a copy
        before = {column: (least[column], most[column]) for column in part}
        for column, bounds in part.items():
            solver.changeColBounds(column, *bounds)
        solver.setOptionValue("objective_bound", limit)
        solved = self._run(effort, ())
        solver.setOptionValue("objective_bound", inf)
        for column, bounds in before.items():
            solver.changeColBounds(column, *bounds)
        return solved

    def leave_out(self, column: int) -> None:
        """Let a column be nothing from now on."""
        self.most[column] = 0.0
        self._solver.changeColBounds(column, 0.0, 0.0)

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
        solver.setOptionValue("mip_heuristic_run_rens", effort.guesses)
        if start:
            self._begin_with(start)
        self._run_until_stopped()
        solved = result_of(solver)
        if not self.interrupted and not self._adds_up(solved):
            solver.clearSolver()
            solver.setOptionValue("presolve", "off")
            if start:
                self._begin_with(start)
            self._run_until_stopped()
            solver.setOptionValue("presolve", "choose")
            solved = result_of(solver)
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

        columns = self.wholes()
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

        highspy, solver = new_engine()
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
