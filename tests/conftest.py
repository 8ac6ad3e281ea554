"""What every test shares."""

from __future__ import annotations

import os

from hypothesis import settings

# No deadline: a first call may load a library. In CI every run draws the same examples.
settings.register_profile("pleatwright", deadline=None, derandomize="CI" in os.environ)
settings.load_profile("pleatwright")
