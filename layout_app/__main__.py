"""``python -m layout_app`` is the command ``ripfirst``."""

import sys

from layout_app.command import main

if __name__ == "__main__":
    sys.exit(main())
