"""Random rigs: whole documents as a person would write them, near their limits more often than not.

Ratings are drawn around what the rig asks of them (by ``tests.laws.model``), so that every
outcome comes up. All numbers are invented. The same seed gives the same document.
"""

from __future__ import annotations

from copy import deepcopy

from hypothesis import strategies

from tests.laws import model
from tests.laws.documents import drop, fluids_of, get, leaves, optional, put, read
from tests.laws.model import Figures, Tree, at
from tests.laws.plates import Plates
from tests.laws.writer import POUND


class Maker(Plates):
    """Draws one whole document."""

    def make(self) -> Tree:
        """The whole document."""
        size = self.pick(["small", "middle", "middle", "large"])
        heavy = {"small": (180, 700), "middle": (700, 2200), "large": (2200, 4600)}[size]
        self.weight = self.between(*heavy)
        self.count = 1 if size == "small" else self.pick([1, 2, 2] if size == "middle" else [2, 2, 3])
        self.arm = self.between(2.4, 4.5) if size != "large" else self.between(4.5, 7.0)
        tree: Tree = {"nickname": f"Rig {self.dice.randrange(10**6)}", "market": self.market}
        tree["trailer"] = self.trailer()
        tree["vehicle"] = self.vehicle()
        tree["gear"] = self.gear()
        rows = list(tree["vehicle"]["seats"])
        tree["occupants"] = [
            {"name": name, "weight": self.mass(self.between(20, 110), sure=False), "seat": self.pick(rows)}
            for name in ("Ada", "Ben", "Cy", "Dot")[: self.pick([1, 1, 2, 2, 3, 4])]
        ]
        if self.chance(0.05):
            tree["occupants"] = []
        tree["cases"] = self.cases(tree)
        figures = [model.figures(tree, i, fluids_of(tree)) for i in range(len(tree["cases"]))]
        self.ratings(tree, figures)
        self.tires(tree, figures)
        self.rest(tree)
        if self.chance(0.25):
            self.extras(tree)
        tree["weighings"] = self.weighings(tree, figures) if self.chance(0.4) else []
        return self.thin(tree)

    def rest(self, tree: Tree) -> None:
        """Brakes, plugs, places, wishes."""
        trailer, vehicle = tree["trailer"], tree["vehicle"]
        kinds = ["none", "electric", "surge", "electric_hydraulic"]
        brakes = self.pick(["none", *kinds] if self.weight < 800 else [*kinds, "electric", "electric"])
        brakes = self.pick(["electric", "surge"] if self.imperial else ["surge"]) if self.calm else brakes
        trailer["brakes"] = {"kind": brakes}
        if brakes != "none":
            trailer["brakes"]["braked_axles"] = (
                self.count if self.calm else self.pick([self.count, self.count, 1, 0])
            )
            if self.calm or self.chance(0.5):
                trailer["brakes"]["parking"] = self.calm or self.chance(0.7)
        if brakes == "electric":
            trailer["brakes"] |= {
                "drum": self.pick(["7 in", "10 in", "12 in"]),
                "wiring": {"length": self.length(self.between(6, 16)), "awg": self.pick([8, 10, 12, 14])},
            }
        trailer["breakaway"] = {"fitted": self.calm or self.chance(0.85)}
        if self.chance(0.6):
            trailer["breakaway"]["battery"] = f"{self.pick([5, 7, 12])} Ah"
        if self.chance(0.3):
            trailer["breakaway"]["voltage"] = f"{self.pick([11.9, 12.3, 12.7])} V"
        plugs = (
            ["7-blade", "7-blade", "4-flat", "5-flat"]
            if self.imperial
            else ["13-pin", "7-pin-12n", "12-flat-au"]
        )
        trailer["connector"] = self.pick([vehicle["connector"], self.pick(plugs)])
        if self.calm:
            trailer["connector"] = vehicle["connector"] = "7-blade" if self.imperial else "13-pin"
        if self.chance(0.6):
            tree["gear"]["plug_adapter"] = self.chance(0.5)
        trailer["jack"] = self.pick(["fixed", "swivel", "clamp_wheel"])
        if self.market in ("uk", "eu", "au") and self.chance(0.6):
            trailer["secondary_coupling"] = self.chance(0.7)
            trailer["coupler"]["d_value"] = "40 kN" if self.calm else f"{self.between(6, 20):.1f} kN"
        if self.chance(0.2):
            trailer["dampers"] = self.chance(0.6)
        features = {
            name: self.chance(0.6)
            for name in ("lp_appliances", "living_space", "windows", "awning", "ramp", "tiedowns", "tpms")
        }
        trailer["features"] = {name: on for name, on in features.items() if self.chance(0.6)}
        if trailer["body"] in ("camper", "travel_trailer") and self.chance(0.3):
            trailer["dealer_added"] = self.mass(self.between(5, 60))
        self.features(trailer)
        self.wishes(tree)

    def features(self, trailer: Tree) -> None:
        """Equipment that moves no number."""
        flags = ["lp_appliances", "living_space", "windows", "awning", "ramp", "tiedowns", "tpms", "screen_door", "converter", "steps", "antenna", "shore_power", "generator", "bike_rack", "open_deck", "enclosed_cargo", "carries_vehicle", "outboard", "winch", "livestock", "partitions", "sway_electronics"]  # fmt: skip
        counts = ("roof_vents", "stabilizers", "slide_outs", "outside_hatches", "chocks")
        made: Tree = {name: self.chance(0.6) for name in flags if self.chance(0.5)}
        made |= {name: self.dice.randint(0, 4) for name in counts if self.chance(0.4)}
        if self.chance(0.5):
            made["fridge"] = self.pick(["absorption", "compressor", "none"])
        trailer["features"] = made

    def extras(self, tree: Tree) -> None:
        """What few people write down."""
        trailer, vehicle, gear = tree["trailer"], tree["vehicle"], tree["gear"]
        trailer |= {"name": "Trailer", "wheel_torque": "100 lb-ft" if self.imperial else "110 Nm"}
        vehicle |= {
            "name": "Car",
            "camera": self.chance(0.5),
            "tow_mode": self.chance(0.5),
            "tailgate": self.chance(0.5),
        }
        vehicle["brake_controller"]["gain"] = 5.5
        tree |= {
            "note": "A note",
            "gain_start": 4,
            "water_temperature": self.pick(["40 F", "90 F"]) if self.imperial else "5 C",
        }
        tree["contacts"] = [{"who": "the shed", "phone": "555-0100"}]
        trailer["chains"]["grade"] = "G30"
        trailer["coupler"]["friction"] = self.chance(0.5)
        gear["name"] = "hitch set"
        if "ball" in gear:
            gear["ball"]["torque"] = "250 lb-ft"
        if "mount" in gear:
            gear["mount"]["name"] = "the mount"
        if "weight_distribution" in gear:
            gear["weight_distribution"]["links"] = "five links"
        if at(trailer, "brakes", "wiring"):
            trailer["brakes"]["wiring"]["area"] = "3.3 mm2"
        for one in trailer["cargo"]:
            one["z"] = "1 m"
        for one in trailer["batteries"]:
            one |= {"z": "1 m", "set": "work"}
        tree["dates"] = {
            name: f"20{self.dice.randint(18, 26)}-0{self.dice.randint(1, 9)}-15"
            for name in ["last_tow", "bearing_service", "brake_service", "battery", "breakaway_battery", "lp_hose", "lp_check", "cylinder_test", "registration", "equipment_change"]
        }  # fmt: skip
        tree["preferences"] |= {
            "units": self.pick(["us", "metric"]), "base_url": "https://cards.example/", "large_print": self.chance(0.3),
            "morning_temperature": "50 F", "retorque": ["10 mi", "50 mi"], "idle": "8 weeks", "drive_side": self.pick(["left", "right"]),
        }  # fmt: skip
        tree["limits"]["wind"] = "35 mph"

    def wishes(self, tree: Tree) -> None:
        """Places, use, the owner's wishes and limits."""
        known = {
            "us": "us-ca us-va us-tx us-wa us-md us-il us-nc us-nh us-or us-ne us-nv us-zz", "ca": "ca-on ca-bc ca-ab ca-zz",
            "uk": "uk", "eu": "eu de", "au": "au au-nsw au-tas", "nz": "nz",
        }[self.market].split()  # fmt: skip
        tree["places"] = sorted(self.dice.sample(known, self.dice.randint(0, min(3, len(known)))))
        tree["use"] = self.pick(["private"] * 5 + ["commercial", "lending"])
        wishes: Tree = {}
        if self.chance(0.85):
            wishes["planned_speed"] = self.speed(
                self.pick([45, 50, 55] if self.calm else [45, 50, 55, 60, 62, 65, 75])
            )
        tree["preferences"] = wishes
        limits: Tree = {}
        if self.chance(0.15) and not self.calm:
            low, high = self.pick([(10, 15), (5, 8), (8, 12)])
            limits["tongue_share"] = {"low": f"{low} %", "high": f"{high} %", "source": "the owner"}
        if self.chance(0.15):
            limits["tongue_weight"] = {
                "low": self.mass(self.weight * 0.05),
                "high": self.mass(self.weight * 0.16),
            }
        if self.chance(0.15):
            limits["close"] = f"{self.pick([2, 10])} %"
        if self.chance(0.2):
            limits["side_allowance"] = f"{self.pick([0, 3, 8])} %"
        if self.chance(0.6):
            limits["water_from_fresh_only"] = self.chance(0.4)
        if self.chance(0.2):
            limits["tire_age"] = "6 years"
        tree["limits"] = limits

    def weighings(self, tree: Tree, figures: list[Figures]) -> list[Tree]:
        """One or two visits to a scale, of parts of what the model says."""
        out: list[Tree] = []
        for day in ("2026-05-09", "2026-08-02")[: self.pick([1, 1, 2])]:
            index = self.dice.randrange(len(figures))
            known, case = figures[index], tree["cases"][index]["name"]
            off = 1.0 if self.calm else self.pick([1.0, 1.0, 1.01, 1.06, 0.95])
            made: Tree = {
                "date": day,
                "case": case,
                "division": self.mass(10 * POUND if self.imperial else 5),
            }

            def said(name: str, known: Figures = known, off: float = off) -> str | None:
                value = known.get(name)
                return None if value is None or value <= 0 else self.mass(value * off + self.between(-4, 4))

            passes = {
                "alone": {"front": "front_alone", "rear": "rear_alone"},
                "slack": {
                    "front": "vehicle_front_axle",
                    "rear": "vehicle_rear_axle",
                    "trailer": "trailer_axle_load",
                },
            }
            if "weight_distribution" in tree["gear"]:
                passes["engaged"] = {
                    "front": "front_axle_engaged",
                    "rear": "rear_axle_engaged",
                    "trailer": "trailer_axles_engaged",
                }
            whole = self.chance(0.5)
            for name, readings in passes.items():
                if whole or self.chance(0.5):
                    got = {
                        end: text
                        for end, of in readings.items()
                        if (whole or self.chance(0.7)) and (text := said(of))
                    }
                    if got:
                        made[name] = got
            group = known.get("trailer_axle_load")
            if "slack" in made and group and self.chance(0.5):
                leans = self.between(-0.12, 0.12)
                parts = [
                    group * off / self.count * (1 + leans * (i - (self.count - 1) / 2))
                    for i in range(self.count)
                ]
                made["slack"]["axles"] = [self.mass(part) for part in parts]
            if self.chance(0.25) and (text := said("tongue_weight")):
                made[self.pick(["jack", "coupler"])] = text
                if "jack" in made:
                    made["jack_behind_coupler"] = self.length(0.2)
            if self.chance(0.25) and (text := said("trailer_weight")):
                made["trailer_alone"] = text
            if self.chance(0.3) and group:
                half, tilt = group * off / self.count / 2, self.between(-0.12, 0.12)
                made["wheels"] = {
                    f"{side} {i + 1}": self.mass(half * (1 + (tilt if side == "left" else -tilt)))
                    for i in range(self.count)
                    for side in ("left", "right")
                }
            if self.chance(0.35):
                made["anchor"] = True
            out.append(made)
        return out

    def thin(self, tree: Tree) -> Tree:
        """Leave out or write ``unknown`` for some leaves; some rigs stay whole."""
        share = self.pick([0.0, 0.0, 0.0, 0.02, 0.05, 0.15])
        made = deepcopy(tree)
        for path in list(leaves(made)):
            if not share or not self.chance(share) or not optional(path):
                continue
            if self.chance(0.5) and not isinstance(get(made, path), (list, dict)):
                put(made, path, "unknown")
            else:
                drop(made, path)
        return made


def random_rig(seed: object) -> Tree:
    """A valid rig document; what the reader refuses is drawn again.

    Args:
        seed: any text or number; the same gives the same document.
    """
    for lap in range(20):
        tree = Maker(f"{seed}.{lap}").make()
        if read(tree).rig is not None:
            return tree
    raise AssertionError(f"no valid rig in 20 tries for seed {seed}")


rig_documents = strategies.integers(min_value=0, max_value=10**9).map(random_rig)
"""Random documents for hypothesis; a failing example is told by its seed."""
