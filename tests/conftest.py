"""Settings all tests share.

Property tests draw the same examples every time, so that a green suite stays green;
``--hypothesis-profile explore`` draws fresh ones, to look for what nobody thought of.
"""

import os
import sys

from hypothesis import settings

settings.register_profile("steady", derandomize=True, deadline=None)
settings.register_profile("explore", deadline=None)
settings.load_profile("steady")

if sys.platform == "linux" and not (os.environ.get("DISPLAY") or os.environ.get("WAYLAND_DISPLAY")):
    os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
