"""Small drawings of where a length or a mark is found, each part named by the fields it explains.

They are for screen and paper alike, 320 units wide; nothing in them is to scale. A page inks the part
that a question asks for.
"""

from __future__ import annotations

from dataclasses import dataclass
from html import escape

WIDE = 320
"""Width of every drawing [units]."""


@dataclass(frozen=True, slots=True)
class FieldDrawing:
    """One drawing.

    Args:
        name: what it is called in the page [-].
        title: what it shows [-].
        fields: fields that it explains [-].
        svg: the drawing; each part with its fields in ``data-f`` [-].
    """

    name: str
    title: str
    fields: tuple[str, ...]
    svg: str

    def parts(self, field: str) -> tuple[int, ...]:
        """Numbers of the parts that explain a field, from 0 [-]."""
        named = (found.split('"', 1)[0].split() for found in self.svg.split('data-f="')[1:])
        return tuple(n for n, fields in enumerate(named) if field in fields)


def _part(fields: str, inside: str) -> str:
    return f'<g data-f="{fields}">{inside}</g>'


def _text(x: float, y: float, words: str, anchor: str = "middle") -> str:
    at = "" if anchor == "middle" else f' class="{anchor}"'
    return f'<text x="{x:g}" y="{y:g}"{at}>{escape(words)}</text>'


def _across(fields: str, left: float, right: float, y: float, words: str) -> str:
    """A length along the ground, with its name above."""
    ends = f"M{left:g} {y - 4:g}v8M{right:g} {y - 4:g}v8M{left:g} {y:g}H{right:g}"
    return _part(fields, f'<path d="{ends}"/>{_text((left + right) / 2, y - 4, words)}')


def _up(fields: str, x: float, top: float, ground: float, words: str, anchor: str = "start") -> str:
    """A height above the ground, with its name beside."""
    ends = f"M{x - 4:g} {top:g}h8M{x - 4:g} {ground:g}h8M{x:g} {top:g}V{ground:g}"
    beside = x + 5 if anchor == "start" else x - 5
    return _part(fields, f'<path d="{ends}"/>{_text(beside, (top + ground) / 2 + 4, words, anchor)}')


def _drawn(name: str, title: str, height: float, *parts: str) -> FieldDrawing:
    body = "".join(parts)
    fields = [one for found in body.split('data-f="')[1:] for one in found.split('"', 1)[0].split()]
    return FieldDrawing(
        name, title, tuple(fields), f'<svg viewBox="0 0 {WIDE} {height:g}" aria-hidden="true">{body}</svg>'
    )


def _label(name: str, title: str, rows: tuple[tuple[str, str, str], ...]) -> FieldDrawing:
    """A label as it is printed: words left, figures right, each row with its fields."""
    lines = "".join(
        _part(fields, _text(18, 26 + 20 * n, words, "start") + _text(302, 26 + 20 * n, figure, "end"))
        if fields
        else _text(18, 26 + 20 * n, words, "start")
        for n, (fields, words, figure) in enumerate(rows)
    )
    height = 20 + 20 * len(rows)
    return _drawn(
        name, title, height, f'<rect x="6" y="6" width="308" height="{height - 12}" rx="6"/>', lines
    )


def _wheels(*centers: tuple[float, float, float]) -> str:
    return "".join(
        f'<circle cx="{x:g}" cy="{y:g}" r="{r:g}" class="fill"/><circle cx="{x:g}" cy="{y:g}" r="2" class="bare"/>'
        for x, y, r in centers
    )


def _vehicle() -> FieldDrawing:
    body = '<path d="M22 76V58l32-8 22-22h66l18 22h104v26z"/><path d="M264 70h26v-8"/>'
    ball = '<circle cx="290" cy="58" r="4" class="fill"/>'
    ground = '<path d="M8 92H312"/>'
    return _drawn(
        "vehicle", "lengths of the vehicle", 184,
        body, ball, _wheels((68, 78, 14), (224, 78, 14)), ground,
        _across("vehicle.front_overhang", 22, 68, 114, "bumper"),
        _across("vehicle.wheelbase", 68, 224, 114, "axle to axle"),
        _across("vehicle.overhang", 224, 290, 114, "axle to ball"),
        _across("vehicle.seats occupants.seat vehicle.cargo", 128, 224, 138, "seat to rear axle"),
        _across("vehicle.fuel", 190, 224, 158, "tank"),
        _across("vehicle.length", 22, 264, 178, "length"),
    )  # fmt: skip


def _trailer() -> FieldDrawing:
    body = '<rect x="72" y="20" width="206" height="56"/><path d="M72 70H30"/>'
    ball = '<circle cx="30" cy="70" r="4" class="fill"/><path d="M8 92H312"/>'
    return _drawn(
        "trailer", "lengths of the trailer", 204,
        body, ball, _wheels((172, 80, 12), (202, 80, 12)),
        _across("trailer.axles.ball_to_center", 30, 187, 114, "coupling to middle of the axles"),
        _across("trailer.axles.spacing", 172, 202, 134, "spacing"),
        _across("trailer.dimensions.body_front", 30, 72, 156, "front"),
        _across("trailer.dimensions.body_rear", 30, 278, 178, "coupling to rear wall"),
        _across("trailer.dimensions.length", 22, 278, 198, "length"),
        _up("trailer.dimensions.height", 292, 20, 92, "", "start"),
    )  # fmt: skip


def _across_rig() -> FieldDrawing:
    body = '<rect x="90" y="8" width="140" height="40"/><path d="M160 48v14"/><rect x="82" y="62" width="156" height="46"/>'
    tires = '<path class="bare" d="M88 76h8v18h-8zM224 76h8v18h-8z"/><path d="M90 22H70v-6M230 22h20v-6"/>'
    return _drawn(
        "across", "widths, seen from above", 194,
        body, tires,
        _across("trailer.axles.track", 92, 228, 132, "middle to middle"),
        _across("trailer.dimensions.width", 80, 240, 152, "trailer"),
        _across("vehicle.width", 90, 230, 170, "vehicle"),
        _across("vehicle.mirrors.span", 68, 252, 188, "mirrors"),
    )  # fmt: skip


def _hitch() -> FieldDrawing:
    mount = (
        '<rect x="20" y="36" width="70" height="30"/><path d="M40 44h78v40h92v16H104V58H40z" class="bare"/>'
    )
    ball = '<circle cx="180" cy="54" r="14" class="fill"/><path d="M174 66h12v18h-12zM176 100h8v16h-8z"/>'
    return _drawn(
        "hitch", "the ball and what carries it", 158,
        mount, ball, '<path d="M8 150H312"/>',
        _up("vehicle.receiver.height vehicle.receiver.height_hitched", 12, 44, 150, ""),
        _part("vehicle.receiver.opening", _text(55, 30, "opening")),
        _part("gear.mount.shank", _text(74, 79, "shank")),
        _up("gear.mount.drop", 132, 44, 84, "drop"),
        _up("gear.ball.height", 222, 40, 84, "ball height"),
        _across("gear.ball.diameter gear.ball.measured", 166, 194, 30, "ball"),
        _part("gear.ball.shank gear.mount.hole", _text(180, 132, "ball shank, hole")),
        _part("vehicle.receiver.height vehicle.receiver.height_hitched", _text(18, 130, "height of the opening", "start")),
    )  # fmt: skip


def _coupler() -> FieldDrawing:
    tongue = '<path d="M300 40H180l-24 14h-22v22h12V66h32v10h10V62h112z"/><path d="M8 150H312"/>'
    return _drawn(
        "coupler", "height of the coupling, trailer level and loaded", 158,
        tongue,
        _up("trailer.coupler.height trailer.coupler.height_at", 162, 66, 150, "height"),
        _part("trailer.coupler.height_at", _text(128, 58, "inside top", "end")),
        _part("trailer.coupler.height_at", _text(128, 80, "lower lip", "end")),
        _part("trailer.coupler.ball", _text(240, 30, "ball size is stamped on top")),
    )  # fmt: skip


_TIRES = ("trailer.tires", "vehicle.tires.front", "vehicle.tires.rear", "trailer.spare")


def _of_tires(*names: str) -> str:
    return " ".join(f"{tire}.{name}" for name in names for tire in _TIRES)


def _tire(name: str, *marks: str) -> FieldDrawing:
    """A sidewall: what rates the tire differs between North America and the rest."""
    return _drawn(
        name, "marks on a tire's sidewall; the figures are an example", 132,
        '<path d="M4 128A156 124 0 0 1 316 128"/><path d="M106 128A54 44 0 0 1 214 128"/>',
        *marks,
        _part(_of_tires("load_index"), _text(192, 38, "100")),
        _part(_of_tires("speed_symbol"), _text(214, 42, "N")),
        _part(_of_tires("max_load"), _text(66, 92, "MAX LOAD …")),
        _part(_of_tires("max_load_at", "max_pressure"), _text(254, 104, "AT … COLD")),
        _part(_of_tires("date_code"), _text(160, 76, "DOT … 2323")),
    )  # fmt: skip


def _scale() -> FieldDrawing:
    body = '<rect x="96" y="20" width="180" height="60"/><path d="M96 70H34v18M8 104H312"/>'
    return _drawn(
        "scale", "trailer level, wheels chocked", 112,
        body, _wheels((190, 90, 14), (222, 90, 14)),
        '<path d="M176 104l-8-8M236 104l8-8" />',
        _part("trailer.empty.tongue", '<rect x="18" y="88" width="32" height="14" class="bare"/>' + _text(56, 92, "scale", "start")),
        _part("trailer.empty.weight", _text(186, 47, "the whole trailer")),
    )  # fmt: skip


SKETCHES: tuple[FieldDrawing, ...] = (
    _label("door", "certification label; the figures are an example", (
        ("", "maker, month and year of make", ""), ("vehicle.gvwr", "GVWR", "0000 LB (0000 KG)"),
        ("vehicle.gawr.front", "GAWR FRT", "0000 LB (0000 KG)"), ("vehicle.gawr.rear", "GAWR RR", "0000 LB (0000 KG)"),
    )),
    _label("placard", "tire and loading placard; the figures are an example", (
        ("vehicle.placard_capacity", "occupants and cargo never over", "000 KG or 0000 LB"),
        ("vehicle.tires.placard_size vehicle.placard.front", "FRONT  XX000/00R00", "000 KPA, 00 PSI"),
        ("vehicle.tires.placard_size vehicle.placard.rear", "REAR  XX000/00R00", "000 KPA, 00 PSI"),
    )),
    _label("maker", "trailer label; the figures are an example", (
        ("trailer.year", "maker, month and year of make", "00/0000"), ("trailer.gvwr", "GVWR", "0000 KG (0000 LB)"),
        ("trailer.axles.gawr", "GAWR, each axle", "0000 KG (0000 LB)"),
        ("trailer.tire_size", "TIRES", "XX000/00R00"), ("trailer.tire_pressure", "COLD", "000 KPA (00 PSI)"),
    )),
    _label("weight", "weight label; the figures are an example", (
        ("", "The weight of cargo should never", ""), ("trailer.cargo_capacity", "exceed", "000 KG or 0000 LB"),
    )),
    _vehicle(), _trailer(), _across_rig(), _hitch(), _coupler(),
    _tire(
        "lettered",
        _part(_of_tires("type"), _text(92, 52, "XX")), _part(_of_tires("size"), _text(140, 38, "205/75R14")),
        _part(_of_tires("load_range", "extra_load"), _text(246, 70, "LOAD RANGE C")),
    ),
    _tire(
        "tire",
        _part(_of_tires("size"), _text(124, 40, "205/75R14")), _part(_of_tires("type"), _text(168, 34, "C")),
        _part(_of_tires("extra_load"), _text(240, 60, "XL")),
    ),
    _scale(),
)  # fmt: skip
"""All drawings."""
US_LABELS = ("door", "placard", "maker", "weight")
"""Drawings of labels as they look in the US and Canada only."""
NORTH_AMERICA = (*US_LABELS, "lettered")
"""Drawings for the US and Canada only; of the rest the first that explains a field is theirs as well."""


def sketch_for(field: str, market: str) -> FieldDrawing | None:
    """Choose the drawing that explains a field; None when there is none for the market.

    Args:
        field: the field, items without their numbers [-].
        market: key of the market [-].
    """
    there = (one for one in SKETCHES if market in ("us", "ca") or one.name not in NORTH_AMERICA)
    return next((one for one in there if field in one.fields), None)
