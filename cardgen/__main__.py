"""Run as ``python -m cardgen``."""

import sys

from cardgen.cli import console

if __name__ == "__main__":
    sys.exit(console())
