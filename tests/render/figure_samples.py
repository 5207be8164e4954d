"""Sample drawings for the printing tests: invented rigs, SI numbers, ready labels."""

from __future__ import annotations

from cardgen.present.figures import (
    Arrow,
    BandGauge,
    Body,
    Centre,
    Curve,
    DrawnLoad,
    Figure,
    FillingChart,
    HitchGeometry,
    SideView,
    TopView,
    Wheelset,
)

ITEMS = (
    DrawnLoad(1.3, 0.75, "Propane 40 lb", "gas", 0.0),
    DrawnLoad(1.55, 0.7, "Battery", "battery", -0.3),
    DrawnLoad(2.6, 0.6, "Fresh 167 lb", "tank", -0.5),
    DrawnLoad(3.4, 0.9, "Kitchen box 45 lb", "cargo", 0.7),
    DrawnLoad(4.4, 0.55, "Grey 200 lb", "tank", 0.3),
    DrawnLoad(5.1, 0.55, "Black 83 lb", "tank", 0.6),
    DrawnLoad(5.6, 1.0, "Tent 38 lb", "cargo", -0.6),
)

SIDE = SideView(
    trailer=Body(1.15, 5.9, 0.45, 2.6, "box", "camper"),
    trailer_axles=(Wheelset(3.75, 0.33),),
    ball_height=0.46,
    vehicle=Body(-5.6, -0.85, 0.25, 1.75, "suv", "SUV"),
    vehicle_axles=(Wheelset(-4.7, 0.37), Wheelset(-1.85, 0.37)),
    items=ITEMS,
    centre=Centre(3.42, 0.95, "Centre of gravity"),
    loads=(
        Arrow(-4.7, "2,410 lb"),
        Arrow(-1.85, "3,310 lb"),
        Arrow(0.0, "Tongue 378 lb", up=False),
        Arrow(3.75, "2,746 lb"),
    ),
    note="Heights of cargo as stated.",
    scale_label="1 m",
)

TOP = TopView(
    front=1.15,
    rear=5.9,
    width=2.1,
    track=1.75,
    axles=(3.75,),
    items=ITEMS,
    left_label="Left wheel 1,340 lb",
    right_label="Right wheel 1,406 lb",
    note="Places across as stated; others on the centre line.",
)

HITCH = HitchGeometry(
    receiver_height=0.53,
    platform_height=0.435,
    ball_height=0.5,
    receiver_label="receiver 21 in",
    ball_label="ball top 19 3/4 in",
    drop_label="drop 3 3/4 in",
    ball_name="2 in ball, 6,000 lb",
)

RISE = HitchGeometry(0.40, 0.47, 0.535, "receiver 400 mm", "ball top 535 mm", "rise 70 mm", "50 mm ball")

CHART = FillingChart(
    curves=(
        Curve(((0.0, 340), (0.5, 355), (1.0, 371)), "Fresh water"),
        Curve(((0.0, 371), (0.5, 365), (1.0, 359)), "Grey water"),
        Curve(((0.0, 371), (1.0, 362)), "Black water"),
        Curve(((0.0, 335), (1.0, 371)), "Propane"),
    ),
    low=312.0,
    high=468.0,
    low_label="10 %: 312 lb",
    high_label="15 %: 468 lb",
    ticks=((300, "300"), (350, "350"), (400, "400"), (450, "450"), (500, "500")),
    axis="Tongue weight, lb",
    across="each filled on its own, the others as in the loading case",
)

GAUGE = BandGauge(12.1, 10.0, 15.0, 5.0, 20.0, "12.1 %", "10 %", "15 %", "within")

ALL: dict[str, Figure] = {
    "side": SIDE,
    "top": TOP,
    "hitch": HITCH,
    "rise": RISE,
    "chart": CHART,
    "gauge": GAUGE,
}
