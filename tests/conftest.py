"""For all tests: hypothesis draws the same examples every time, so that a check that passed passes again.

`make soak` draws without end and at random. How long an example takes is for the benchmarks: a busy machine fails no
check.
"""

from hypothesis import settings

pytest_plugins = ["tests.people_fixtures", "tests.register_fixtures"]

settings.register_profile("check", derandomize=True, deadline=None)
settings.load_profile("check")
