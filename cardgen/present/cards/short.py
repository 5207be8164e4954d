"""Short names of the limits, for bars on a card."""

from __future__ import annotations

SHORT = {
    "trailer-gross": "Trailer {trailer_rating}",
    "trailer-cargo-label": "Trailer {cargo_label}",
    "tow-rating": "{Tow_rating}",
    "combination": "{combination_rating}",
    "vehicle-gross": "Vehicle {vehicle_rating}",
    "vehicle-front-axle": "Front axle {axle_limit}",
    "vehicle-rear-axle": "Rear axle {axle_limit}",
    "placard": "Placard load",
    "tongue-share": "{Coupling_load} share",
    "hitch-tongue-vehicle-tongue-rating": "Vehicle {coupling_load} limit",
    "hitch-tongue-weight-distribution": "Bars, {coupling_load}",
    "hitch-trailer-weight-distribution": "Bars, trailer",
    "tongue-weight": "Owner's {coupling_load}",
    "tire-load-trailer": "Trailer tire load",
    "tire-load-front": "Front tire load",
    "tire-load-rear": "Rear tire load",
    "tire-speed-trailer": "Trailer tire speed",
    "tire-speed-front": "Front tire speed",
    "tire-speed-rear": "Rear tire speed",
    "d-value": "D value",
    "distribution-needed": "Limit without bars",
}

_PARTS = {
    "Ball mount": "{Ball_mount}",
    "Coupler": "{Coupler}",
    "Receiver": "{Receiver}",
    "Receiver adapter": "{Receiver} adapter",
}


def short(code: str, title: str) -> str:
    """Return a short name for a check: its own, or one made from its code, or the title."""
    if code in SHORT:
        return SHORT[code]
    for prefix, words in (("hitch-trailer-", "{}, trailer"), ("hitch-tongue-", "{}, {coupling_load}")):
        if code.startswith(prefix):
            part = code.removeprefix(prefix).replace("-", " ").removesuffix(" rating").capitalize()
            part = _PARTS.get(part, part)
            return words.replace("{}", part)
    if code.startswith("weighed-"):
        name = short(code.removeprefix("weighed-"), "")
        return f"{name}, as weighed" if name else title
    if code.startswith("weighing-self-"):
        return "{Scale_ticket} against itself"
    if code.startswith("trailer-axle-"):
        return f"Trailer axle {code.rsplit('-', 1)[-1]} {{axle_limit}}"
    return title
