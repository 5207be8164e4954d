"""Run as ``python -m cardgen``."""

import sys

from cardgen.cli import main

if __name__ == "__main__":
    sys.exit(main())
