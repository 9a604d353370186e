"""What a screen can show."""

import io

from fifthwire.cli.terminal import Terminal, terminal


def a_stream(encoding: str = "utf-8") -> io.TextIOWrapper:
    return io.TextIOWrapper(io.BytesIO(), encoding=encoding)


def shown(stream: io.TextIOWrapper) -> str:
    stream.flush()
    return stream.buffer.getvalue().decode(stream.encoding)


def test_a_pipe_has_no_width_and_no_bold(monkeypatch):
    monkeypatch.delenv("COLUMNS", raising=False)

    screen = terminal(a_stream())

    assert (screen.width, screen.is_bold, screen.is_plain) == (None, False, False)


def test_columns_set_the_width(monkeypatch):
    monkeypatch.setenv("COLUMNS", "80")

    assert terminal(a_stream()).width == 80


def test_an_ascii_stream_is_given_ascii():
    stream = a_stream("ascii")
    screen = terminal(stream)

    screen.show("62.1 ± 0.4 Ω at 20 °C – 食")

    assert screen.is_plain
    assert shown(stream) == "62.1 +/- 0.4 ohm at 20 degC - \\u98df\n"


def test_a_file_cannot_steer_the_screen():
    stream = a_stream()

    terminal(stream).show("valve\x1b[2J\x07\x9b31m")

    assert shown(stream) == "valve?[2J??31m\n"


def test_our_own_bold_goes_through():
    stream = a_stream()
    screen = Terminal(stream=stream, width=80, is_plain=False, is_bold=True)

    screen.show(screen.bold("bad"))

    assert shown(stream) == "\x1b[1mbad\x1b[0m\n"


def test_no_color_takes_the_bold_away(monkeypatch):
    screen_stream = type("Screen", (io.StringIO,), {"isatty": lambda self: True, "encoding": "utf-8"})()
    monkeypatch.setenv("TERM", "xterm")
    monkeypatch.delenv("NO_COLOR", raising=False)
    assert terminal(screen_stream).is_bold

    monkeypatch.setenv("NO_COLOR", "")

    assert not terminal(screen_stream).is_bold


def test_text_is_wrapped_to_the_screen_and_not_in_a_pipe():
    wide = "one two three four five six seven eight nine ten eleven"
    screen = Terminal(stream=a_stream(), width=44, is_plain=False, is_bold=False)

    assert all(len(line) <= 44 for line in screen.wrapped(wide, indent="  "))
    assert Terminal(stream=a_stream(), width=None, is_plain=False, is_bold=False).wrapped(wide) == [wide]
