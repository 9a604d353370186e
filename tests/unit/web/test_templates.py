"""Templates: every text through the catalogue, nothing inline, every form with its key."""

import re
from importlib.resources import files
from pathlib import Path

import pytest

import fifthwire.web
from fifthwire.web.rendering import environment

ROOT = Path(str(files(fifthwire.web))) / "templates"
TEMPLATES = sorted(str(path.relative_to(ROOT)) for path in ROOT.rglob("*.html"))
NAMES = {"Fifthwire"}
"""Of no language."""


def source_of(name: str) -> str:
    return (ROOT / name).read_text("utf-8")


def without_expressions(source: str) -> str:
    return re.sub(r"\{\{.*?\}\}|\{%.*?%\}|\{#.*?#\}", "", source, flags=re.DOTALL)


@pytest.mark.parametrize("name", TEMPLATES)
def test_a_template_can_be_read(name):
    environment().get_template(name)


@pytest.mark.parametrize("name", TEMPLATES)
def test_every_text_of_a_template_goes_through_the_catalogue(name):
    source = re.sub(r"<code>.*?</code>", "", without_expressions(source_of(name)), flags=re.DOTALL)
    texts = re.findall(r">([^<>]*)<", source)

    bare = [text.strip() for text in texts if re.search(r"[^\W\d_]{2,}", text) and text.strip(" ·\n") not in NAMES]
    assert bare == []


@pytest.mark.parametrize("name", TEMPLATES)
def test_every_label_for_those_who_cannot_see_goes_through_the_catalogue(name):
    source = without_expressions(source_of(name))

    assert re.findall(r'\b(?:aria-label|placeholder|title|alt|data-label)="([^"]*[^\W\d_][^"]*)"', source) == []


@pytest.mark.parametrize("name", TEMPLATES)
def test_no_script_or_style_stands_in_a_page(name):
    source = source_of(name)

    assert not re.search(r"<style|\sstyle=|\son[a-z]+=|javascript:", source)
    assert re.findall(r"<script(?![^>]*\bsrc=)[^>]*>", source) == []


@pytest.mark.parametrize("name", TEMPLATES)
def test_every_form_that_changes_something_carries_its_key(name):
    for form in re.findall(r"<form\b.*?</form>", source_of(name), flags=re.DOTALL):
        if 'method="post"' in form:
            assert "form_key()" in form, form[:80]


@pytest.mark.parametrize("name", TEMPLATES)
def test_nothing_is_marked_as_safe_without_being_escaped(name):
    assert "|safe" not in source_of(name).replace(" ", "")
