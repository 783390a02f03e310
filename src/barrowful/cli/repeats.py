"""Options given more than once: the last would hold without a word, so it is wrong use."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence

import click

from barrowful.measures.problems import WrongUse

#: How what stands for the words of an option ends that gives each path or name one value.
ONE_EACH = "=VALUE", "=SIZE"


def check_repeats(command: click.Command, name: str, words: Sequence[str], parent: click.Context) -> None:
    """Refuse words of a command in which an option of one value, or one path of a repeated one, stands twice.

    A plain flag says the same as often as it stands.
    """
    ctx = click.Context(command, info_name=name, parent=parent)
    values, _, order = command.make_parser(ctx).parse_args([*words])
    for option, count in Counter(order).items():
        if not isinstance(option, click.Option):
            continue
        called = "/".join((*option.opts, *option.secondary_opts))
        if option.multiple:
            one_each = (option.metavar or "").endswith(ONE_EACH)
            twice = _twice(values.get(option.name or "", ())) if one_each else ""
            if twice:
                raise WrongUse(f'{called} says twice what "{twice:.60}" is; give it once')
        elif count > 1 and (option.secondary_opts or not option.is_flag):
            raise WrongUse(f"{called} is given {count} times; give it once")


def _twice(texts: Iterable[str]) -> str:
    """Return what stands before the equals sign of two of some texts, or nothing."""
    counts = Counter(text.partition("=")[0].strip() for text in texts)
    return next((head for head, count in counts.items() if count > 1), "")
