"""The solver itself, HiGHS: how it is made and set, and what it found.

It works on one thread with a limit on nodes and none on time, so that the same programme always has the same
answer.
"""

from __future__ import annotations

import os
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from math import inf, isinf
from typing import Any

from barrowful.measures.problems import WrongUse
from barrowful.planning.columns import TOLERANCE
from barrowful.planning.solved import Solved


def check_solver() -> None:
    """Raise :class:`WrongUse` without the extra, which says how to come by it."""
    new_engine()


def new_engine() -> tuple[Any, Any]:
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
        # these are small: to begin again takes longer than to go on
        ("mip_allow_restart", False),
        # it takes longer to look for a good answer apart than to come by one on the way to the best
        ("mip_heuristic_run_rins", False),
        ("mip_heuristic_run_rens", False),
        ("mip_heuristic_run_root_reduced_cost", False),
        # beyond the first look they take longer than they save
        ("mip_allow_cut_separation_at_nodes", False),
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


def result_of(solver: Any) -> Solved:
    """Return what a solver found."""
    import highspy

    status, info = solver.getModelStatus(), solver.getInfo()
    feasible = info.primal_solution_status == highspy.SolutionStatus.kSolutionStatusFeasible
    bound, least, nodes = info.mip_dual_bound, info.objective_function_value, max(0, info.mip_node_count)
    if not feasible:
        return Solved((), inf, bound, stopped=status != highspy.HighsModelStatus.kInfeasible, nodes=nodes)
    values = tuple(solver.getSolution().col_value)
    stopped = status != highspy.HighsModelStatus.kOptimal
    return Solved(values, least, least if isinf(bound) or not stopped else bound, stopped, nodes)


def least_known(solver: Any) -> float:
    """Return what a solver that has run says costs come to at least: infinite where nothing does.

    That is so as well where it stopped as they come to more than it was to look for.
    """
    import highspy

    status, known = solver.getModelStatus(), highspy.HighsModelStatus
    if status == known.kOptimal:
        return float(solver.getInfo().objective_function_value)
    return inf if status in {known.kInfeasible, known.kObjectiveBound} else -inf
