"""Short names of the limits, for bars on a card."""

from __future__ import annotations

SHORT = {
    "trailer-gross": "Trailer GVWR",
    "trailer-cargo-label": "Trailer cargo label",
    "tow-rating": "Tow rating",
    "combination": "GCWR",
    "vehicle-gross": "Vehicle GVWR",
    "vehicle-front-axle": "Front axle GAWR",
    "vehicle-rear-axle": "Rear axle GAWR",
    "placard": "Placard load",
    "tongue-share": "Tongue weight share",
    "hitch-tongue-vehicle-tongue-rating": "Vehicle tongue weight limit",
    "tongue-weight": "Owner's tongue weight",
    "tire-load-trailer": "Trailer tire load",
    "tire-load-front": "Front tire load",
    "tire-load-rear": "Rear tire load",
    "distribution-needed": "Limit without bars",
}


def short(code: str, title: str) -> str:
    """Return a short name for a check: its own, or one made from its code, or the title."""
    if code in SHORT:
        return SHORT[code]
    for prefix, words in (("hitch-trailer-", "{}, trailer"), ("hitch-tongue-", "{}, tongue weight")):
        if code.startswith(prefix):
            part = code.removeprefix(prefix).replace("-", " ").removesuffix(" rating")
            return words.format(part.capitalize())
    if code.startswith("trailer-axle-"):
        return f"Trailer axle {code.rsplit('-', 1)[-1]} GAWR"
    return title
