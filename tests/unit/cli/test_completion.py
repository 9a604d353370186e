"""Completion scripts: every command and option, in the shells' own words."""

import shutil
import subprocess

import pytest

from fifthwire.cli.completion import completion_script, described_commands
from fifthwire.cli.main import main
from fifthwire.cli.parser import COMMANDS, SHELLS


@pytest.mark.parametrize("shell", SHELLS)
def test_a_script_knows_every_command_and_option(shell):
    script = completion_script(shell)

    for command in described_commands():
        assert command.name in script
        for option in command.options:
            for name in option.names:
                assert (f"-l {name[2:]}" if shell == "fish" and name.startswith("--") else name.lstrip("-")) in script


@pytest.mark.parametrize("shell", SHELLS)
def test_the_command_prints_the_script_line_by_line(shell, capsys):
    code = main(["completion", shell])

    assert (code, capsys.readouterr().out) == (0, completion_script(shell))


def test_the_commands_described_are_those_of_the_parser():
    assert [command.name for command in described_commands()] == list(COMMANDS)


@pytest.mark.parametrize("shell", SHELLS)
def test_a_script_is_good_syntax_where_its_shell_is_installed(shell, tmp_path):
    if shutil.which(shell) is None:
        pytest.skip(f"{shell} is not installed here")
    script = tmp_path / "script"
    script.write_text(completion_script(shell), encoding="utf-8")

    ran = subprocess.run([shell, "-n", str(script)], capture_output=True, text=True, check=False)

    assert (ran.returncode, ran.stderr) == (0, "")


def completed_by_bash(words: list[str], tmp_path) -> list[str]:
    script = tmp_path / "script"
    script.write_text(completion_script("bash"), encoding="utf-8")
    quoted = " ".join(f"'{word}'" for word in words)
    asked = f"source {script}; COMP_WORDS=({quoted}); COMP_CWORD={len(words) - 1}; _fifthwire; echo ${{COMPREPLY[@]}}"
    ran = subprocess.run(["bash", "-c", asked], capture_output=True, text=True, check=True)
    return ran.stdout.split()


@pytest.mark.parametrize(
    ("words", "offered"),
    [
        (["fifthwire", "as"], ["assess"]),
        (["fifthwire", "assess", "--un"], ["--units"]),
        (["fifthwire", "assess", "--units", ""], ["si", "us"]),
        (["fifthwire", "completion", "z"], ["zsh"]),
        (["fifthwire", "assess", "--only", ""], []),
    ],
)
def test_bash_offers_what_fits(words, offered, tmp_path):
    assert completed_by_bash(words, tmp_path) == offered
