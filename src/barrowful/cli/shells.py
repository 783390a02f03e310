"""Completion for shells: click's, with words of several parts in bash, and never a word of complaint."""

from __future__ import annotations

import os
import re
from contextlib import redirect_stderr, suppress
from io import StringIO

import click
from click.shell_completion import BashComplete, CompletionItem, add_completion_class

#: The environment variable by which a shell asks.
ASKED = "_BARROWFUL_COMPLETE"
_SPECIAL = re.compile(r"([^\w@%+:.,/=-])")

#: As click's, but backslashes stay, words are not taken apart, and no space follows a part of one.
_BASH = """\
%(complete_func)s() {
    local IFS=$'\\n' completion type value
    COMPREPLY=()
    for completion in $(env COMP_WORDS="${COMP_WORDS[*]}" COMP_CWORD=$COMP_CWORD \
%(complete_var)s=bash_complete "$1" 2>/dev/null); do
        IFS=',' read -r type value <<< "$completion"
        case $type in
            dir) compopt -o dirnames ;;
            file) compopt -o default ;;
            part) compopt -o nospace; COMPREPLY+=("$value") ;;
            plain) COMPREPLY+=("$value") ;;
        esac
    done
}
complete -o nosort -F %(complete_func)s %(prog_name)s
"""


class Bash(BashComplete):
    """Completion for bash, in which a space in a word must be escaped unless the word is quoted."""

    name = "bash"
    source_template = _BASH

    def format_completion(self, item: CompletionItem) -> str:
        value = str(item.value)
        sort = "part" if item.goes_on else item.type
        return f"{sort},{value if _is_quoted() else _SPECIAL.sub(_escape, value)}"


def _escape(letter: re.Match[str]) -> str:
    return "\\" + letter.group()


def _is_quoted() -> bool:
    """Say whether the word that bash completes begins with a quote."""
    with suppress(KeyError, ValueError, IndexError):
        word = os.environ["COMP_WORDS"].split("\n")[int(os.environ["COMP_CWORD"])]
        return word.startswith(('"', "'"))
    return False


def complete(commands: click.Group) -> int:
    """Answer a shell that asks for words; an error is no word."""
    add_completion_class(Bash)
    if not os.environ[ASKED].endswith("_complete"):
        commands.main([], prog_name="barrowful", standalone_mode=False)
    with suppress(Exception, SystemExit), redirect_stderr(StringIO()):
        commands.main([], prog_name="barrowful", standalone_mode=False)
    return 0
