"""Text at 7:1, marks at 4.5:1, in every scheme."""

import re

import pytest

from fifthwire.assessment.colours import PRINT, SCHEMES, TOKENS

TEXT, MARKS = 7.0, 4.5


def luminance(colour: str) -> float:
    """Relative luminance.  Source: WCAG 2.2, definition of relative luminance (from memory)."""
    parts = [int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)]
    linear = [part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(one: str, other: str) -> float:
    """Contrast ratio.  Source: WCAG 2.2, definition of contrast ratio (from memory)."""
    light, dark = sorted((luminance(one), luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def test_the_contrast_of_black_on_white_is_21():
    assert contrast("#000000", "#ffffff") == pytest.approx(21.0)


@pytest.mark.parametrize("scheme", [*SCHEMES, "print"])
@pytest.mark.parametrize("ground", ["paper", "soft"])
@pytest.mark.parametrize("token", ["ink", "quiet", "accent"])
def test_text_is_readable_on_every_ground(scheme, ground, token):
    colours = PRINT if scheme == "print" else SCHEMES[scheme]

    assert contrast(colours[token], colours[ground]) >= TEXT


@pytest.mark.parametrize("scheme", [*SCHEMES, "print"])
@pytest.mark.parametrize("token", ["ink", "bad", "accent", "line"])
def test_marks_stand_out_from_paper_and_bands(scheme, token):
    colours = PRINT if scheme == "print" else SCHEMES[scheme]

    assert contrast(colours[token], colours["paper"]) >= MARKS
    assert contrast(colours[token], colours["soft"]) >= (MARKS if token != "line" else 3.0)


def test_the_sun_scheme_is_black_on_white_without_grey_text():
    sun = SCHEMES["sun"]

    assert sun["paper"] == "#ffffff"
    assert {sun["ink"], sun["quiet"], sun["line"], sun["bad"]} == {"#000000"}


def test_every_scheme_has_every_token_and_nothing_else():
    for scheme in SCHEMES.values():
        assert tuple(scheme) == TOKENS
        assert all(re.fullmatch("#[0-9a-f]{6}", colour) for colour in scheme.values())
