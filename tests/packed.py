"""The data of the measuring page, as its script reads them out of the page."""

from __future__ import annotations

import json
import re
import string
from pathlib import Path
from typing import Any

_DIGITS = string.ascii_uppercase + string.ascii_lowercase + string.digits + "!#$%()*+,-./:;=?@[]_{|}"


def measure_data(page: Path) -> Any:
    """Undo the packing: a mark stands for so many characters from a place on."""
    found = re.search(r'id="measure-data">(.*?)</script>', page.read_text("utf-8"), re.DOTALL)
    assert found is not None
    made = ""
    for mark, one in re.findall(r"~(....)|([^~])", json.loads(found[1])):
        if mark:
            a, b, c, size = map(_DIGITS.index, mark)
            place = (a * len(_DIGITS) + b) * len(_DIGITS) + c
            made += made[place : place + size + 6]
        made += one
    return json.loads(made.replace("^", '"'))
