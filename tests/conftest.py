"""For all tests: hypothesis draws the same examples every time, so that a check that passed passes again.

`make soak` draws without end and at random.
"""

from hypothesis import settings

settings.register_profile("check", derandomize=True)
settings.load_profile("check")
