"""Small drawings, in plain letters that any terminal shows, of how a length or a load is measured."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Sketch:
    """One drawing.

    Args:
        title: what it shows [-].
        fields: fields it explains, list items and free names written ``[]`` and ``<name>`` [-].
        art: the drawing, at most 78 letters wide; lengths carry the names of their fields [-].
        note: what to know besides [-].
    """

    title: str
    fields: tuple[str, ...]
    art: str
    note: str = ""


SKETCHES = (
    Sketch(
        "lengths of the trailer, from the coupling center rearward",
        (
            "trailer.axles.ball_to_center", "trailer.axles.spacing", "trailer.dimensions.body_front",
            "trailer.dimensions.body_rear", "trailer.cargo[].x", "trailer.tanks.<name>.x",
            "trailer.cylinders.<name>.x", "trailer.batteries[].x", "trailer.bays.<name>",
        ),
        """\
coupling center
   |          +-------------------------------------------+
   |          |                                 [#]       |
   o==========+-------------------------------------------+
   |          |              (_)     (_)         |        |
   |          |               |<--+-->| spacing  |        |
   |<------ ball_to_center ------>|              |        |
   |<-------------- x of a thing --------------->|        |
   |<-------->| body_front                                |
   |<-------------------- body_rear --------------------->|""",
    ),
    Sketch(
        "lengths of the vehicle",
        (
            "vehicle.wheelbase", "vehicle.overhang", "vehicle.front_overhang", "vehicle.length",
            "vehicle.seats.<name>", "vehicle.cargo[].ahead_of_rear_axle", "vehicle.fuel.ahead_of_rear_axle",
        ),
        """\
                 ____________________
               _/      |     |       \\
     _________/       (#)    |        \\______________
    |                  |                             |
    |___( )____________|___________________( )_______|===o
    |    |             |                    |        |   |
    |    |<------------ wheelbase --------->|        |   |
    |    |             |                    |<-overhang->|
    |    |             |<------------------>| ahead_of_rear_axle
    |<-->| front_overhang                            |
    |<--------------------- length ------------------>|""",
    ),
    Sketch(
        "hitch in the bed",
        ("vehicle.overhang", "vehicle.bed_hitch.height"),
        """\
               __________
             _/    |     \\       T  <- pin plate, or top of the gooseneck ball
   _________/      |      \\______|____________   ---
  |                              |            |   |
  |____( )_______________________|__( )_______|   |  bed_hitch.height,
                                 |   |            |  from the ground
                                 |<->| overhang  ---""",
        "Ahead of the axle the overhang is negative: '-4 in'.",
    ),
    Sketch(
        "heights of {receiver} and {coupler}",
        (
            "vehicle.receiver.height", "vehicle.receiver.height_hitched", "vehicle.receiver.ball_height",
            "trailer.coupler.height", "trailer.coupler.height_at",
        ),
        """\
  vehicle                                trailer, level and loaded
  ________                                          ________
          |                                    ____/
          |==+  <- top inside of              /    \\____  <- ball_top
          |==+     the opening               |_|  |_|     <- lower_lip
          |  |                                  |
             |  receiver.height                 |  coupler.height
             |                                  |
  ___________v__________________________________v_______________ level ground""",
        "coupler.height_at says to which surface of the {coupler} its height was measured: ball_top is "
        "the inside top of the socket, lower_lip its lower edge; the two differ by about the ball's height.",
    ),
    Sketch(
        "{ball_mount} and ball",
        (
            "gear.mount.drop", "gear.mount.shank", "gear.mount.hole", "gear.ball.height", "gear.ball.diameter",
            "gear.ball.shank", "gear.stock[].drop", "vehicle.receiver.opening",
        ),
        """\
                                             |<->| ball.diameter
   receiver                                  ___   ---
   +--------+                               (   )   |
   | +------|------+   ---                   \\ /    |  ball.height
   | | shank|      |    |  mount.drop         |     |
   | +------|--+   +----|---------------+-----+----+---  <- ball platform
   +--------+  |       ---              |   hole   |
               +------------------------+----------+""",
        "A platform above the top of the shank is a rise: the drop is then negative.",
    ),
    Sketch(
        "across the rig, seen from above",
        (
            "trailer.axles.track", "trailer.dimensions.width", "vehicle.width", "vehicle.mirrors.span",
            "trailer.cargo[].y", "trailer.tanks.<name>.y", "trailer.cylinders.<name>.y",
            "trailer.batteries[].y",
        ),
        """\
   |<------------- mirrors.span -------------->|     front of the rig is up
   =|       +---------------------------+     |=
            |<----- vehicle.width ----->|
            +-------------+-------------+
                          o
            +-------------+-------------+
       ([T] |             |    [#]      | [T])
         |  |             |<--->| y     |  |
         |  +-------------+-------------+  |
         |<------------- track ----------->|
       |<------- dimensions.width ---------->|""",
        "y counts from the center line, positive to the right; the track from middle to middle of the tires; "
        "the width over the widest rigid part, {fenders} included; mirrors as they are set for towing.",
    ),
    Sketch(
        "scale under the jack, trailer level on level ground, wheels chocked",
        (
            "weighings[].jack", "weighings[].jack_behind_coupler", "weighings[].coupler",
            "trailer.empty.tongue",
        ),
        """\
            +-----------------------------+
            |                             |
   o========+-----------------------------+
   |    |             (   )(   )
   |    | jack         '-'| '-'
   |  [___] scale         |
   |<-->| jack_behind_coupler
   |<-- ball_to_center -->|""",
        "A scale under the {coupler} itself shows the {coupling_load}. Under the jack it shows more than that: "
        "tongue = jack * (ball_to_center - jack_behind_coupler) / ball_to_center.",
    ),
    Sketch(
        "household scale and beam under the jack",
        (
            "weighings[].beam.reading", "weighings[].beam.beam_only", "weighings[].beam.support_to_jack",
            "weighings[].beam.jack_to_scale",
        ),
        """\
               | jack
               v
   ====================================   strong beam, level
     ^                              |
     |                            [___]   household scale
   support of the same height       |
     |<------->| support_to_jack    |
     |         |<- jack_to_scale -->|""",
        "jack load = (reading - beam_only) * (support_to_jack + jack_to_scale) / support_to_jack. Chock the "
        "wheels, keep feet and hands from under the beam, and mind the scale's largest reading.",
    ),
    Sketch(
        "a public platform scale: each axle group on its own platform",
        (
            "weighings[].slack.front", "weighings[].slack.rear", "weighings[].slack.trailer",
            "weighings[].engaged.front", "weighings[].engaged.rear", "weighings[].engaged.trailer",
            "weighings[].alone.front", "weighings[].alone.rear", "weighings[].slack.axles",
            "weighings[].engaged.axles", "weighings[].trailer_alone",
        ),
        """\
      ______                    +--------------------+
    _/   |  \\________           |                    |
   |__( )_________( )|==o=======+----( )--( )--------+
    [  front  ][  rear  ]      [       trailer        ]""",
        "First hitched with weight distribution slack, then with it engaged, then the vehicle alone: the "
        "same people, fuel and gear each time, all wheels of a group on one platform.",
    ),
    Sketch(
        "front wheel-arch heights, straight above the middle of the front wheel",
        (
            "gear.weight_distribution.arches.alone", "gear.weight_distribution.arches.slack",
            "gear.weight_distribution.arches.engaged",
        ),
        """\
        ____________________
    ___/                    \\____
   |     .-----.  ---            |
   |____/       \\__|_____________|
        (       )  |  measured height
         (_____)  ---""",
        "From level ground to the lower edge of the wheel arch, above the middle of the wheel: vehicle alone, "
        "hitched with the bars slack, hitched with the bars engaged, nothing else changed.",
    ),
    Sketch(
        "marks on a tire's sidewall",
        tuple(
            f"{where}.{name}"
            for where in ("trailer.tires", "vehicle.tires.front", "vehicle.tires.rear", "trailer.spare")
            for name in (
                "type", "size", "load_range", "load_index", "max_load", "max_load_at", "speed_symbol",
                "date_code", "max_pressure",
            )
        ),
        """\
   ST 205/75 R14          100 N                  LOAD RANGE C
   |  '-- size            |   '- speed_symbol    '-- load_range
   '-- type               '-- load_index

   MAX LOAD SINGLE 800 kg (1764 lb) AT 350 kPa (50 psi) COLD
   '-- max_load                     '-- max_load_at

   DOT ....  .... 2323    date_code: week 23 of 2023""",
        "The figures are an example. The full code with the date may stand on one side of the tire only.",
    ),
    Sketch(
        "stamps on the collar of a gas cylinder",
        (
            "trailer.cylinders.<name>.size", "trailer.cylinders.<name>.water_capacity",
            "trailer.cylinders.<name>.tare",
        ),
        """\
      ________________________________
     |  WC 47.6 LB     TW 17.0 LB     |   WC: water_capacity
     |________________________________|   TW: tare, the empty cylinder""",
        "The figures are an example. The water capacity is the weight of water that would fill the cylinder; "
        "the size is the gas it is sold for, which is far less.",
    ),
    Sketch(
        "the brake feed, one way",
        ("trailer.brakes.wiring.length", "trailer.brakes.wiring.area", "trailer.brakes.wiring.awg"),
        """\
   battery [+]----- controller -----(plug)-----------------( ) magnets
           |<------------------- wiring.length ------------->|""",
        "Measured one way along the wire; the computation counts the return.",
    ),
    Sketch(
        "length, width and height of the trailer",
        ("trailer.dimensions.length", "trailer.dimensions.height"),
        """\
            ___                                      ---
        +-----------------------------------------+   |
        |                                         |   |  dimensions.height
   o====+-----------------------------------------+   |
   |                    ( )   ( )                 |  ---
   |<------------ dimensions.length ------------->|""",
        "The height to the tallest point (vents, {antenna}, air conditioner); the length with the {tongue}.",
    ),
)  # fmt: skip


def sketches_of(field: str) -> tuple[Sketch, ...]:
    """Drawings that show how a field is measured.

    Args:
        field: path with ``[]`` and ``<name>`` for list items and free names [-].
    """
    return tuple(sketch for sketch in SKETCHES if field in sketch.fields)
