"""Property tests of the arithmetic: no deadline, as a loaded machine says nothing about a formula; the same cases each run."""

from hypothesis import settings

settings.register_profile("process", deadline=None, derandomize=True)
settings.load_profile("process")
