"""A single fault in a sound file is told where it stands, and nothing is told that only follows from it."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
import yaml

from barrowful.measures.problems import Problem

DEMO = Path(__file__).parents[2] / "demo"
DEMOS = sorted(DEMO.glob("*.yaml"))


def values_of(node: yaml.Node) -> Iterator[yaml.ScalarNode]:
    """Yield each value of a file that is text, but for names: what else says them is wrong without them."""
    if isinstance(node, yaml.MappingNode):
        for key, value in node.value:
            if key.value != "name":
                yield from values_of(value)
    elif isinstance(node, yaml.SequenceNode):
        for item in node.value:
            yield from values_of(item)
    elif isinstance(node, yaml.ScalarNode):
        yield node


@pytest.mark.parametrize("demo", DEMOS, ids=lambda demo: demo.stem)
@pytest.mark.parametrize("junk", ["7 furlongs", "[1]"])
def test_one_wrong_value_is_all_that_is_told(
    demo: Path, junk: str, problems_of: Callable[[str], tuple[Problem, ...]]
) -> None:
    """Whatever value of a demo is made nonsense of, only its own line has a problem."""
    text, wrong = demo.read_text(encoding="utf-8"), 0
    for value in values_of(yaml.compose(text)):
        start, end = value.start_mark, value.end_mark
        problems = problems_of(text[: start.index] + junk + text[end.index :])
        assert {problem.line for problem in problems} <= {start.line + 1}, (value.value, problems)
        wrong += bool(problems)
    assert wrong > 50
