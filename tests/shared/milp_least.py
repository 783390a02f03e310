"""The least of a programme by another solver."""

from __future__ import annotations

from collections.abc import Mapping

import numpy
from scipy.optimize import Bounds, LinearConstraint, milp
from scipy.sparse import csr_matrix

from barrowful.planning.solver import Programme


def least_of(programme: Programme, costs: Mapping[int, float]) -> float:
    """Return the least that the costs of columns come to, by a solver that simplifies nothing first.

    Simplified first, some of these programmes come out wrong, or as having no answer at all.
    """
    cost = numpy.zeros(len(programme.most))
    for column, each in costs.items():
        cost[column] = each
    entries = [(row, column, each) for row, of in enumerate(programme.rows) for column, each in of[0].items()]
    rows, columns, values = zip(*entries, strict=True)
    matrix = csr_matrix((values, (rows, columns)), shape=(len(programme.rows), len(programme.most)))
    least, most = ([of[side] for of in programme.rows] for side in (1, 2))
    found = milp(
        cost,
        constraints=LinearConstraint(matrix, least, most),
        bounds=Bounds(0, programme.most),
        integrality=[int(whole) for whole in programme.whole],
        options={"mip_rel_gap": 0, "presolve": False},
    )
    assert found.success, found.message
    return float(found.fun)
