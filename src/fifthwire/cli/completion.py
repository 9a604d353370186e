"""Completion scripts for the shells, made from the parser, so that they know every command and option it knows."""

import argparse
from argparse import Namespace
from collections.abc import Iterator

from fifthwire.cli.exits import DONE
from fifthwire.cli.parser import build_parser
from fifthwire.cli.terminal import terminal
from fifthwire.model.choices import REFRIGERANTS
from fifthwire.model.record import record


@record
class Option:
    """An option of a command."""

    names: tuple[str, ...]
    help: str
    choices: tuple[str, ...] = ()
    takes_file: bool = False
    takes_directory: bool = False
    takes_value: bool = False


@record
class Command:
    """A command with its options."""

    name: str
    help: str
    options: tuple[Option, ...]
    words: tuple[str, ...] = ()
    """What its first argument may be; empty where that is a file or nothing."""
    takes_file: bool = False


def run(arguments: Namespace) -> int:
    """Print the completion script of a shell."""
    screen = terminal()
    for line in completion_script(arguments.shell).splitlines():
        screen.show(line)
    return DONE


def completion_script(shell: str) -> str:
    """The completion script of a shell, `bash`, `zsh` or `fish`."""
    commands = tuple(described_commands())
    return {"bash": _bash, "zsh": _zsh, "fish": _fish}[shell](commands)


def described_commands() -> Iterator[Command]:
    """Every command of the parser with its options."""
    parser = build_parser()
    choices = next(action for action in parser._actions if isinstance(action, argparse._SubParsersAction))
    helps = {action.dest: action.help or "" for action in choices._choices_actions}
    for name, command in choices.choices.items():
        arguments = [action for action in command._actions if not action.option_strings]
        yield Command(
            name=name,
            help=helps[name],
            options=tuple(_option(action) for action in command._actions if action.option_strings),
            words=tuple(str(word) for action in arguments for word in _words(action)),
            takes_file=any(action.metavar in ("FILE", "VISIT", "PLANT") for action in arguments),
        )


def _words(action: argparse.Action) -> tuple[str, ...]:
    """What an argument may be; a refrigerant may be written in any case, so that the parser lists none."""
    return REFRIGERANTS if action.metavar == "REFRIGERANT" else tuple(action.choices or ())


def _option(action: argparse.Action) -> Option:
    metavars = action.metavar if isinstance(action.metavar, tuple) else (action.metavar,)
    return Option(
        names=tuple(action.option_strings),
        help=(action.help or "").replace("%%", "%"),
        choices=tuple(str(word) for word in action.choices or ()),
        takes_file="FILE" in metavars or "VISIT" in metavars,
        takes_directory="DIR" in metavars,
        takes_value=action.nargs != 0,
    )


def _bash(commands: tuple[Command, ...]) -> str:
    names = " ".join(command.name for command in commands)
    cases = "\n".join(_bash_case(command) for command in commands)
    return f"""\
# Completion of fifthwire for bash. Put into ~/.bashrc:  source <(fifthwire completion bash)
_fifthwire() {{
    local word="${{COMP_WORDS[COMP_CWORD]}}" before="${{COMP_WORDS[COMP_CWORD-1]}}"
    COMPREPLY=()
    if [[ $COMP_CWORD -eq 1 ]]; then
        COMPREPLY=($(compgen -W "{names} --help --version" -- "$word"))
        return
    fi
    case "${{COMP_WORDS[1]}}" in
{cases}
    esac
}}
complete -o bashdefault -F _fifthwire fifthwire
"""


def _bash_case(command: Command) -> str:
    lines = []
    for option in command.options:
        pattern = "|".join(option.names)
        if option.choices:
            lines.append(f'{pattern}) COMPREPLY=($(compgen -W "{" ".join(option.choices)}" -- "$word")); return ;;')
        elif option.takes_file or option.takes_directory:
            kind = "-f" if option.takes_file else "-d"
            lines.append(f'{pattern}) compopt -o filenames; COMPREPLY=($(compgen {kind} -- "$word")); return ;;')
        elif option.takes_value:
            lines.append(f"{pattern}) return ;;")
    before = "\n".join(f"                {line}" for line in lines)
    names = " ".join(name for option in command.options for name in option.names)
    if command.takes_file:
        other = 'compopt -o filenames; COMPREPLY=($(compgen -f -- "$word"))'
    else:
        other = f'COMPREPLY=($(compgen -W "{" ".join(command.words)}" -- "$word"))'
    return f"""\
        {command.name})
            case "$before" in
{before}
            esac
            if [[ $word == -* ]]; then
                COMPREPLY=($(compgen -W "{names}" -- "$word"))
            else
                {other}
            fi ;;"""


def _zsh(commands: tuple[Command, ...]) -> str:
    described = "\n".join(f"        '{command.name}:{_zsh_text(command.help)}'" for command in commands)
    cases = "\n".join(_zsh_case(command) for command in commands)
    return f"""\
#compdef fifthwire
# Completion of fifthwire for zsh. Put into ~/.zshrc, after compinit:  source <(fifthwire completion zsh)
_fifthwire() {{
    local -a commands
    commands=(
{described}
    )
    if (( CURRENT == 2 )); then
        _describe 'command' commands
        return
    fi
    local command=$words[2]
    shift words
    (( CURRENT-- ))
    case $command in
{cases}
    esac
}}
compdef _fifthwire fifthwire
"""


def _zsh_case(command: Command) -> str:
    specs = [spec for option in command.options for spec in _zsh_options(option)]
    if command.takes_file:
        specs.append("'1:file:_files'")
    elif command.words:
        specs.append(f"'1:{command.name}:({' '.join(command.words)})'")
    joined = " \\\n                ".join(specs)
    return f"        {command.name})\n            _arguments \\\n                {joined} ;;"


def _zsh_options(option: Option) -> list[str]:
    value = ""
    if option.choices:
        value = f":value:({' '.join(option.choices)})"
    elif option.takes_file or option.takes_directory:
        value = ":file:_files" if option.takes_file else ":directory:_files -/"
    elif option.takes_value:
        value = ":value: "
    return [f"'*{name}[{_zsh_text(option.help)}]{value}'" for name in option.names]


def _zsh_text(text: str) -> str:
    plain = text.replace("'", "'\\''")
    return plain.replace("[", "\\[").replace("]", "\\]").replace(":", "\\:")


def _fish(commands: tuple[Command, ...]) -> str:
    lines = [
        "# Completion of fifthwire for fish. Put into ~/.config/fish/config.fish:  fifthwire completion fish | source",
        "complete -c fifthwire -f",
    ]
    for command in commands:
        lines.append(f"complete -c fifthwire -n __fish_use_subcommand -a {command.name} -d {_fish_text(command.help)}")
        here = f"complete -c fifthwire -n '__fish_seen_subcommand_from {command.name}'"
        if command.takes_file:
            lines.append(f"{here} -F")
        if command.words:
            lines.append(f"{here} -a '{' '.join(command.words)}'")
        lines += [f"{here} {_fish_option(option)}" for option in command.options]
    return "\n".join(lines) + "\n"


def _fish_option(option: Option) -> str:
    names = " ".join(f"-l {name[2:]}" if name.startswith("--") else f"-s {name[1:]}" for name in option.names)
    value = ""
    if option.choices:
        value = f" -x -a '{' '.join(option.choices)}'"
    elif option.takes_file:
        value = " -r -F"
    elif option.takes_directory:
        value = " -x -a '(__fish_complete_directories)'"
    elif option.takes_value:
        value = " -x"
    return f"{names}{value} -d {_fish_text(option.help)}"


def _fish_text(text: str) -> str:
    escaped = text.replace("\\", "\\\\").replace("'", "\\'")
    return f"'{escaped}'"
