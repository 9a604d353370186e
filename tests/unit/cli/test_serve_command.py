"""`fifthwire serve` as a process: it listens on this machine alone, says where, and stops in order."""

import os
import re
import signal
import socket
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import httpx
import pytest

from fifthwire import __version__
from fifthwire.cli.main import main
from fifthwire.cli.parser import build_parser
from fifthwire.web.settings import DEFAULT_PORT
from fifthwire.workflow.register_place import open_place

COMMAND = (sys.executable, "-m", "fifthwire", "serve", "--port", "0", "--no-browser", "--register")


@pytest.fixture
def served(tmp_path: Path) -> Iterator[tuple[subprocess.Popen[str], str]]:
    process = subprocess.Popen(
        [*COMMAND, str(tmp_path / "a.sqlite")], stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True
    )
    assert process.stdout is not None
    line = process.stdout.readline()
    yield process, line
    process.kill()
    process.communicate()


def test_it_says_where_it_is_and_answers_there(served):
    _, line = served
    address = re.match(r"http://127\.0\.0\.1:\d+/", line)

    assert address is not None
    assert "a.sqlite" in line
    assert httpx.get(f"{address[0]}more", trust_env=False).status_code == 200


@pytest.mark.skipif(os.name == "nt", reason="signals of POSIX")
def test_it_stops_in_order(served):
    process, _ = served

    process.send_signal(signal.SIGINT)

    _, errors = process.communicate(timeout=30)
    assert (process.returncode, errors) == (0, "")


def test_alone_it_refuses_to_listen_where_others_could_reach_it(tmp_path, capsys):
    register = tmp_path / "a.sqlite"

    assert main(["serve", "--host", "0.0.0.0", "--register", str(register)]) == 2

    assert "--shared" in capsys.readouterr().err
    assert not register.exists()


def test_a_port_that_is_taken_is_said(tmp_path, capsys):
    with socket.create_server(("127.0.0.1", 0)) as other:
        port = other.getsockname()[1]

        assert main(["serve", "--port", str(port), "--register", str(tmp_path / "a.sqlite")]) == 2

    assert f"port {port}" in capsys.readouterr().err


def test_a_file_that_is_no_register_is_refused_with_the_reason(tmp_path, capsys):
    file = tmp_path / "a.sqlite"
    file.write_text("a shopping list " * 100)

    assert main(["serve", "--port", "0", "--register", str(file)]) == 4
    assert str(file) in capsys.readouterr().err
    assert file.read_text() == "a shopping list " * 100


def test_the_port_of_the_parser_is_that_of_the_pages():
    assert build_parser().parse_args(["serve"]).port == DEFAULT_PORT


def test_the_demo_register_is_served_from_the_directory_for_a_users_data_and_says_that_it_is_invented(tmp_path):
    home = tmp_path / "fifthwire"
    home.mkdir()
    open_place(str(home / f"demo-{__version__}.sqlite")).close()  # as if it had been made before
    words = [sys.executable, "-m", "fifthwire", "serve", "--demo", "--port", "0", "--no-browser"]
    env = {**os.environ, "XDG_DATA_HOME": str(tmp_path)}
    process = subprocess.Popen(words, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, env=env)
    assert process.stdout is not None
    try:
        address = re.match(r"http://127\.0\.0\.1:\d+/", process.stdout.readline())
        assert address is not None
        assert "nothing here is a real building" in httpx.get(address[0], trust_env=False).text
    finally:
        process.kill()
        process.communicate()


@pytest.mark.parametrize("more", [["--shared"], ["--register", "a.sqlite"]])
def test_the_demo_register_is_shared_with_nobody_and_stands_beside_no_other(more, capsys):
    assert main(["serve", "--demo", "--port", "0", *more]) == 2

    assert "to look around in" in capsys.readouterr().err
