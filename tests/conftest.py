"""Settings of every test."""

import os

from hypothesis import settings

# timings are no pass or fail; the same examples every time where nobody can look
settings.register_profile("house", deadline=None, derandomize="CI" in os.environ)
settings.load_profile("house")
