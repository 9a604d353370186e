"""One Chromium for a module of tests of pages; skipped by name where there is none.

It is closed behind the module: the loop it runs would stand in the way of the tests that start one of their own.
"""

from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Page, sync_playwright
from tools.chromium import LAUNCH_ARGS, chromium


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    path = chromium()
    if path is None:
        pytest.skip("Chromium is not here: apt-get install chromium, or CHROMIUM=/path/to/it")
    with sync_playwright() as playwright:
        launched = playwright.chromium.launch(executable_path=path, args=list(LAUNCH_ARGS))
        yield launched
        launched.close()


@pytest.fixture
def page(browser: Browser) -> Iterator[Page]:
    """A page that may not reach any network."""
    context = browser.new_context(offline=True)
    yield context.new_page()
    context.close()
