"""Where the demo rigs are: in a checkout beside the package, else inside the installed package."""

from __future__ import annotations

from pathlib import Path

import cardgen


def demo_rigs() -> Path:
    """Return the folder of the demo rigs, the checkout's first."""
    package = Path(cardgen.__file__).parent
    checkout = package.parent / "rigs"
    if (package.parent / "pyproject.toml").is_file() and checkout.is_dir():
        return checkout
    return package / "_rigs"
