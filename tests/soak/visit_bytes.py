"""Bytes into the visit reader: a visit or a list of problems, never a traceback, never over 2 s.

With the coverage-guided fuzzer atheris where it is installed (it has no wheel for every machine that Python 3.11 runs
on, so it is not among the pinned packages: `pip install atheris`); without it the same seeds are changed at random.
"""

import subprocess
import sys
import tempfile
from collections.abc import Callable, Iterator
from importlib.util import find_spec
from pathlib import Path
from random import Random
from time import perf_counter

from fifthwire.model.errors import VisitFileError
from fifthwire.visitfile import read_visit, visit_to_json

LATEST_S = 2.0
ROOT = Path(__file__).parent.parent.parent
PIECES = (
    b"[", b"]", b"[[", b"]]", b'"', b"'", b'"""', b"\\", b"=", b".", b",", b"{", b"}", b"#", b"\n", b"\r\n", b"\x00",
    b"\xff", b"\xef\xbb\xbf", b"1e999", b"nan", b"-inf", b"0x", b"null", b"true", b"open", b"118 psi", b"9 delta_degF",
    b"[[valves]]\n", b"readings = ", b"\\u0000", b"\\ud800", b"1979-05-27T07:32:00Z", b"9" * 50, b"[" * 40,
)  # fmt: skip


def try_bytes(data: bytes) -> None:
    """One input; the first byte says which syntax it is read as.

    Raises
    ------
    AssertionError
        If it took too long. Any error other than VisitFileError goes through: it is the finding.
    """
    syntax, text = ("json", data[1:]) if data[:1] == b"j" else ("toml", data[1:])
    start = perf_counter()
    try:
        read_visit(text, name="soak", syntax=syntax)
    except VisitFileError as err:
        assert err.problems, "refused without a problem"
    took = perf_counter() - start
    assert took < LATEST_S, f"{took:.1f} s"


def seeds() -> list[bytes]:
    """Visits that the repository holds, each in both syntaxes."""
    found = []
    for path in sorted([*ROOT.glob("docs/**/*.visit.toml"), *ROOT.glob("src/fifthwire/demo/*.visit.toml")]):
        text = path.read_bytes()
        found.append(b"t" + text)
        found.append(b"j" + visit_to_json(read_visit(text, name=path.name, syntax="toml").visit).encode())
    return found


def small_seeds() -> list[bytes]:
    """A few tables of each seed: small inputs are changed and read faster."""
    small = []
    for seed in seeds():
        if seed[:1] == b"t":
            tables = seed[1:].split(b"\n\n")
            small += [b"t" + b"\n\n".join([tables[0], *tables[i : i + 2]]) for i in range(1, len(tables), 3)]
    return small


def changed(rng: Random, pool: list[bytes]) -> bytes:
    """A seed with some bytes changed, pieces put in, cut out, doubled or taken from another seed."""
    data = bytearray(rng.choice(pool))
    for _ in range(rng.choice((1, 1, 2, 3, 8))):
        at = rng.randrange(1, len(data) + 1) if len(data) > 1 else 1
        until = min(len(data), at + int(rng.expovariate(0.05)))
        deed = rng.randrange(6)
        if deed == 0:
            data[at:at] = rng.choice(PIECES)
        elif deed == 1:
            del data[at:until]
        elif deed == 2:
            data[at:at] = data[at:until]
        elif deed == 3:
            other = rng.choice(pool)
            start = rng.randrange(len(other))
            data[at:until] = other[start : start + until - at]
        elif deed == 4 and at < len(data):
            data[at] = rng.randrange(256)
        else:
            data[at:at] = rng.randbytes(rng.randrange(1, 5))
    return bytes(data)


def inputs(seed: int) -> Iterator[bytes]:
    """Changed seeds without end."""
    rng, pool = Random(seed), [*small_seeds(), *small_seeds(), *seeds()]
    while True:
        yield changed(rng, pool)


def unguided(n_inputs: int, until: Callable[[], bool], seed: int = 1) -> int:
    """Try changed seeds; how many were tried.

    Raises
    ------
    AssertionError
        With the input that broke the reader, kept in a file beside the run.
    """
    for number, data in enumerate(inputs(seed)):
        if number >= n_inputs or until():
            return number
        try:
            try_bytes(data)
        except BaseException:
            Path("soak-finding.bin").write_bytes(data)
            sys.stderr.write(f"input {number} is kept in soak-finding.bin\n")
            raise
    return n_inputs


def guided(n_inputs: int, minutes: float) -> int:
    """Run atheris in a process of its own; its exit status."""
    with tempfile.TemporaryDirectory() as corpus:
        for number, seed in enumerate([*small_seeds(), *seeds()]):
            (Path(corpus) / str(number)).write_bytes(seed)
        limits = [f"-runs={n_inputs}", f"-max_total_time={round(60 * minutes)}", f"-timeout={round(LATEST_S) + 1}"]
        command = [
            sys.executable,
            "-m",
            "tests.soak.visit_bytes",
            *limits,
            "-max_len=20000",
            "-print_final_stats=1",
            "-artifact_prefix=soak-finding-",
        ]
        return subprocess.run([*command, corpus], cwd=ROOT, check=False).returncode


def has_atheris() -> bool:
    """Whether the guided fuzzer is installed."""
    return find_spec("atheris") is not None


if __name__ == "__main__":
    import atheris

    atheris.instrument_all()
    atheris.Setup(sys.argv, try_bytes)
    atheris.Fuzz()
