"""Which fields a starter rig lists, by kind of rig, and how it writes them; every other field may be added by hand."""

from __future__ import annotations

EUROPE = ("uk", "eu")
HOMES = ("camper", "travel_trailer", "caravan")
"""Bodies that people live in."""

VEHICLE = (
    "year", "curb.weight", "curb.front", "curb.rear", "curb.includes.fuel", "curb.includes.driver", "curb.source",
    "wheelbase", "overhang", "length", "front_overhang", "width", "height", "gvwr", "gawr.front", "gawr.rear",
    "gcwr", "tow_rating.braked", "tow_rating.unbraked", "tow_rating.tongue",
    "tires.placard_size", "tires.front.type", "tires.front.size", "tires.front.load_index",
    "tires.front.max_load", "tires.front.max_load_at", "tires.front.load_range", "tires.front.extra_load", "tires.front.max_pressure", "tires.front.speed_symbol", "tires.front.date_code",
    "tires.rear.type", "tires.rear.size", "tires.rear.load_index", "tires.rear.max_load",
    "tires.rear.max_load_at", "tires.rear.load_range", "tires.rear.extra_load", "tires.rear.max_pressure", "tires.rear.speed_symbol", "tires.rear.date_code", "tires.rear_count", "placard.front",
    "placard.rear", "connector", "brake_controller.fitted", "mirrors.span", "mirrors.towing",
)  # fmt: skip
NOT_IN_THE_CAB = dict.fromkeys(("none", "surge"), ("brake_controller.fitted",))
"""Fields of the vehicle that a kind of trailer brakes leaves no place for."""
RECEIVER = (
    "receiver.opening", "receiver.height", "receiver.height_hitched", "receiver.weight_carrying.trailer",
    "receiver.weight_carrying.tongue",
)  # fmt: skip
DISTRIBUTING = ("receiver.weight_distributing.trailer", "receiver.weight_distributing.tongue")
TOWBAR = (
    "receiver.ball_height", "receiver.height_hitched", "receiver.d_value", "receiver.weight_carrying.trailer",
    "receiver.weight_carrying.tongue",
)  # fmt: skip
BED = ("bed_hitch.ratings.trailer", "bed_hitch.ratings.tongue", "bed_hitch.height")
BED_AXLES = ("front_axle_rate", "rear_axle_rate")
"""What tells how far a vehicle squats under a hitch in the bed, where no height can be taken hitched."""

TRAILER = (
    "year", "empty.weight", "empty.tongue", "empty.source", "gvwr", "axles.gawr",
    "axles.ball_to_center", "axles.spacing", "axles.track", "axles.suspension", "tires.type", "tires.size",
    "tires.load_range", "tires.load_index", "tires.max_load", "tires.max_load_at", "tires.speed_symbol",
    "tires.date_code", "tire_size", "tire_pressure", "spare.same", "spare.type",
    "spare.date_code", "spare.pressure", "wheel_torque", "coupler.ball",
    "coupler.height", "coupler.height_at", "coupler.ratings.trailer", "coupler.ratings.tongue", "chains.count",
    "chains.strength", "brakes.kind", "brakes.braked_axles", "brakes.drum", "breakaway.fitted",
    "breakaway.battery", "connector", "jack",
    "dimensions.length", "dimensions.width", "dimensions.height", "dimensions.body_front", "dimensions.body_rear",
)  # fmt: skip
NOT_ON_FIFTH_WHEEL = ("chains.count", "chains.strength", "coupler.ball")
BY_INDEX_ONLY = (
    "tires.max_load",
    "tires.front.max_load",
    "tires.rear.max_load",
    "chains.strength",
)
"""What Europe does without: its tires are rated by their load index (UN R30, R54), and no
rule there asks how strong a chain is."""
LETTERED = ("tires.load_range", "tires.front.load_range", "tires.rear.load_range")
"""Marks of tires in North America; elsewhere a tire may still carry one."""
NOT_IN = dict.fromkeys(EUROPE, (*LETTERED, *BY_INDEX_ONLY)) | dict.fromkeys(("au", "nz"), LETTERED)
"""Fields that a market's starter leaves out."""
_BY_HAND = ("brakes.drum", "breakaway.battery")
NOT_WITH = {
    ("none", ""): (
        *_BY_HAND,
        "brakes.braked_axles",
        "brakes.parking",
        "brakes.r13",
        "breakaway.fitted",
        "brake_service",
    ),
    ("surge", ""): _BY_HAND,
    **dict.fromkeys((("surge", market) for market in EUROPE), (*_BY_HAND, "brakes.r13")),
    **dict.fromkeys((("unknown", market) for market in EUROPE), ("brakes.drum",)),
}
"""Fields that a kind of brakes, perhaps of one market, leaves no place for (`brake_service` is a date): a cable sets the coupling's brakes by hand."""
NOT_ON_ONE_AXLE = ("axles.spacing", "axles.suspension")
EMPTY_HOME = ("empty.includes.tanks", "empty.includes.cylinders")
"""What was in a trailer with rooms when it was weighed empty."""

FEATURES: dict[str, tuple[str, ...]] = {
    **dict.fromkeys(
        HOMES,
        (
            "fridge", "lp_appliances", "living_space", "windows", "roof_vents", "screen_door", "converter",
            "awning", "steps", "stabilizers", "slide_outs", "antenna", "shore_power", "generator", "outside_hatches",
        ),
    ),
    "utility": ("open_deck", "enclosed_cargo", "tiedowns", "carries_vehicle", "ramp"),
    "cargo": (
        "living_space", "enclosed_cargo", "tiedowns", "carries_vehicle", "livestock", "ramp", "outside_hatches",
    ),
    "boat": ("outboard", "winch", "tiedowns"),
    "horse": ("living_space", "livestock", "partitions", "ramp", "windows"),
    "car_hauler": ("carries_vehicle", "open_deck", "enclosed_cargo", "tiedowns", "ramp", "winch"),
}  # fmt: skip
EVERY_FEATURE = ("tpms", "chocks")
"""Equipment that any body may have."""

GEAR = ("weight", "plug_adapter")
BALL = ("ball.diameter", "ball.shank", "ball.height", "ball.rating", "ball.torque")
TOWBAR_BALL = ("ball.diameter", "ball.rating")
MOUNT = ("mount.drop", "mount.shank", "mount.hole", "mount.ratings.trailer", "mount.ratings.tongue")
BARS = (
    "weight_distribution.ratings.trailer", "weight_distribution.ratings.tongue",
    "weight_distribution.restoration",
)  # fmt: skip
PREFERENCES = ("planned_speed", "morning_temperature", "base_url")
DATES = ("last_tow", "bearing_service", "brake_service", "battery", "lp_hose", "equipment_change")

KINDS: dict[str, tuple[str, str, tuple[tuple[str, str], ...]]] = {
    "travel_trailer": ("ball", "travel_trailer", ()),
    "open_utility": (
        "ball",
        "utility",
        (("open_deck", "true"), ("enclosed_cargo", "false"), ("carries_vehicle", "false")),
    ),
    "enclosed_cargo": ("ball", "cargo", (("enclosed_cargo", "true"), ("livestock", "false"))),
    "car_hauler": ("ball", "car_hauler", (("carries_vehicle", "true"),)),
    "equipment": (
        "ball",
        "utility",
        (("open_deck", "true"), ("enclosed_cargo", "false"), ("carries_vehicle", "true")),
    ),
    "boat": ("ball", "boat", ()),
    "pop_up": ("ball", "camper", (("slide_outs", "0"),)),
    "teardrop": ("ball", "camper", (("slide_outs", "0"),)),
    "horse": ("ball", "horse", (("livestock", "true"),)),
    "caravan": ("ball", "caravan", ()),
    "fifth_wheel": ("fifth_wheel", "travel_trailer", ()),
    "gooseneck": ("gooseneck", "utility", (("open_deck", "true"), ("enclosed_cargo", "false"))),
    "vehicle": ("ball", "unknown", ()),
}
"""What stands in the driveway: how it couples, its body, and the equipment that its kind tells; the last is a vehicle
for which a trailer is sought."""

SHORT = {
    "vehicle.gvwr", "vehicle.gawr.front", "vehicle.gawr.rear", "vehicle.gcwr", "vehicle.tow_rating.braked",
    "vehicle.tow_rating.unbraked", "vehicle.tow_rating.tongue", "vehicle.tires.front.type",
    "vehicle.tires.front.load_index", "vehicle.tires.front.max_load", "vehicle.tires.rear.type",
    "vehicle.tires.rear.load_index", "vehicle.tires.rear.max_load",
    "vehicle.receiver.weight_carrying.trailer", "vehicle.receiver.weight_carrying.tongue",
    "vehicle.receiver.weight_distributing.trailer", "vehicle.receiver.weight_distributing.tongue",
    "vehicle.receiver.d_value", "vehicle.bed_hitch.ratings.trailer", "vehicle.bed_hitch.ratings.tongue",
    "trailer.gvwr", "trailer.gtm", "trailer.axles.gawr", "trailer.axles.suspension", "trailer.tires.type",
    "trailer.tires.load_index", "trailer.tires.max_load", "trailer.tires.max_load_at", "trailer.tire_pressure",
    "trailer.coupler.ball", "trailer.coupler.ratings.trailer", "trailer.coupler.ratings.tongue",
    "trailer.coupler.d_value", "trailer.brakes.kind", "gear.ball.diameter", "gear.ball.rating",
    "gear.mount.ratings.trailer", "gear.mount.ratings.tongue", "gear.weight_distribution.ratings.trailer",
    "gear.weight_distribution.ratings.tongue",
}  # fmt: skip
"""Fields of the short starter: with a scale ticket in three passes these labels, stamps and sidewalls are all that
the checks of gross weight, tongue, tow rating, tires and hitch wait for [-]."""

UNITS = {
    "us": {
        "mass": "lb", "length": "ft and in", "distance": "mi", "volume": "US gal", "pressure": "psi",
        "temperature": "F", "speed": "mph", "torque": "lb-ft", "fraction": "%",
    },
    "metric": {
        "mass": "kg", "length": "m, cm or mm", "distance": "km", "volume": "L", "pressure": "bar, kPa or psi",
        "temperature": "C", "speed": "km/h", "torque": "N m", "fraction": "%",
    },
}  # fmt: skip
"""Units to write a field in; the reader takes all of both columns."""
SAMPLES = {
    "us": {"mass": "3,500 lb", "pressure": "65 psi", "volume": "20 gal", "length": "6 ft 2 in",
           "x": "9 ft", "tank": "20 gal", "cylinder": ("20 lb", "47.6 lb", "17 lb"),
           "at": "1 ft 3 in", "burns": "gasoline", "seats": ("5 ft", "2 ft"), "fuel": "18 gal", "battery": "48 lb"},
    "metric": {"mass": "1600 kg", "pressure": "4.5 bar", "volume": "75 L", "length": "1.88 m",
               "x": "2.75 m", "tank": "75 L", "cylinder": ("9 kg", "21 kg", "9.5 kg"),
               "at": "40 cm", "burns": "diesel", "seats": ("1.5 m", "60 cm"), "fuel": "68 L", "battery": "22 kg"},
}  # fmt: skip
"""Ways of writing in the comments of a starter; invented figures."""
PLACES = {
    "us": ("states", "us-va"),
    "ca": ("provinces", "ca-on"),
    "eu": ("countries", "de"),
    "au": ("states", "au-nsw"),
}
"""What kinds of place a market has rules of, and one of them."""
