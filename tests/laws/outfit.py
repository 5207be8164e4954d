"""The two vehicles, the gear between them and how they are loaded."""

from __future__ import annotations

from tests.laws import model
from tests.laws.model import Tree
from tests.laws.writer import POUND, Writer


class Outfit(Writer):
    """Draws what is there and where; ratings follow when the loads are known."""

    def trailer(self) -> Tree:
        ball = self.kind == "ball"
        body = self.pick(
            ["camper", "travel_trailer", "caravan", "utility", "cargo", "boat", "horse", "car_hauler"]
        )
        usual = (0.1, 0.15) if self.imperial else (0.05, 0.1)
        share = self.between(*(usual if self.chance(0.6) else (0.02, 0.2)))
        share = share if ball else self.between(0.1, 0.28)
        if self.calm:
            share = self.between(0.115, 0.135) if self.market in ("us", "ca") else self.between(0.05, 0.07)
            share = self.between(0.09, 0.11) if self.market in ("au", "nz") else share
            share = share if ball else self.between(0.18, 0.22)
        front, rear = self.between(0.6, 1.4), self.arm * self.between(1.25, 1.6)
        track = self.between(1.3, 2.1)
        made: Tree = {
            "type": self.kind,
            "body": body,
            "year": self.pick([2012, 2019, 2023] if self.calm else [1998, 2005, 2012, 2019, 2023]),
        }
        made["empty"] = {
            "weight": self.mass(self.weight, sure=False),
            "tongue": self.mass(self.weight * share, sure=False),
            "source": self.pick(["scale", "label", "brochure", "estimate"]),
            "includes": {},
        }
        if self.chance(0.35):
            made["empty"]["left_minus_right"] = self.mass(self.weight * self.between(-0.1, 0.1))
        made["axles"] = {
            "count": self.count,
            "ball_to_center": self.length(self.arm),
            "track": self.length(track),
            "suspension": "single"
            if self.count == 1
            else self.pick(["equalized", "equalized", "independent"]),
        }
        if self.count > 1:
            made["axles"]["spacing"] = self.length(self.between(0.75, 1.0))
        if made["axles"]["suspension"] == "independent" and self.chance(0.7):
            made["axles"]["rate"] = "3,000 lb/in" if self.imperial else f"{self.between(200, 600):.0f} N/mm"
        wide = track + 0.3

        def place() -> Tree:
            near = self.arm * self.between(0.88, 0.98)
            spot = {"x": self.length(near if self.calm else self.between(front, rear))}
            if self.chance(0.9):
                spot["y"] = self.length(self.between(-wide / 2.2, wide / 2.2))
            return spot

        tanks = {}
        homely = body in ("camper", "travel_trailer", "caravan", "horse")
        for name, chance in (("fresh", 0.7), ("grey", 0.6), ("black", 0.35), ("heater", 0.3)):
            if homely and self.chance(chance):
                tanks[name] = {"holds": name, "capacity": self.volume(self.between(15, 160)), **place()}
        if body in ("boat", "car_hauler", "utility") and self.chance(0.5):
            kind = self.pick(["fuel", "diesel", "salt"])
            tanks[f"{kind} tank"] = {"holds": kind, "capacity": self.volume(self.between(20, 120)), **place()}
        made["tanks"] = tanks
        made["cylinders"] = self.cylinders(homely)
        made["batteries"] = [
            {"name": name, "weight": self.mass(self.between(15, 60)), **place()}
            for name in ("house battery", "second battery")[: self.pick([0, 1, 2])]
        ]
        names = ("boxes", "tools", "chairs", "wood", "machine", "stores")[: self.pick([0, 1, 2, 3, 5])]
        made["cargo"] = [self.item(name, place()) for name in names]
        made["bays"] = {
            name: self.length(x)
            for name, x in (("front bay", front + 0.2), ("middle bay", self.arm), ("rear bay", rear - 0.2))
        }
        if self.chance(0.2):
            made["bays"] = {}
        made["dimensions"] = {
            "length": self.length(rear + 0.1),
            "width": self.length(self.between(wide, max(wide, 2.2) if self.calm else 2.6)),
            "height": self.length(self.between(1.0, 3.4)),
            "body_front": self.length(front - 0.1),
            "body_rear": self.length(rear),
        }
        state = made["empty"]["includes"]
        state["tanks"] = {name: self.pick(["empty", "empty", "full"]) for name in tanks}
        state["cylinders"] = {name: self.pick(["full", "empty"]) for name in made["cylinders"]}
        if made["cargo"] and self.chance(0.3):
            state["cargo"] = [self.pick(made["cargo"])["name"]]
        if made["batteries"] and self.chance(0.2):
            state["without"] = [made["batteries"][0]["name"]]
        return made

    def cylinders(self, homely: bool) -> Tree:
        """Gas, where people live."""
        made: Tree = {}
        for name in ("left", "right")[: self.pick([0, 1, 2]) if homely else 0]:
            size, water, tare = self.pick([(20, 47.6, 17), (30, 71.5, 24.5), (40, 95.2, 30)])
            made[name] = {
                "size": self.mass(size * POUND),
                "water_capacity": f"{water} lb" if self.imperial else f"{water * POUND:.1f} kg",
                "tare": self.mass(tare * POUND),
                "x": self.length(self.between(0.2, 1.0)),
                "y": self.length(self.between(-0.4, 0.4)),
            }
        return made

    def item(self, name: str, place: Tree) -> Tree:
        """One piece of cargo."""
        heavy = self.weight * (self.between(0.3, 0.9) if name == "machine" else self.between(0.01, 0.12))
        made = {"name": name, "weight": self.mass(heavy, sure=False), **place}
        if self.chance(0.5):
            made["set"] = self.pick(["out", "work"])
        if self.chance(0.1):
            made["movable"] = False
        return made

    def vehicle(self) -> Tree:
        curb = self.between(1300, 2200) if self.weight < 900 else self.between(1900, 3600)
        base = self.between(2.6, 3.9)
        hung = self.between(0.9, 1.4) if self.kind == "ball" else self.between(-0.25, 0.0)
        front = curb * self.between(0.5, 0.6)
        made: Tree = {
            "kind": self.pick(["car", "suv", "pickup", "van"]) if self.kind == "ball" else "pickup",
            "year": self.pick([2001, 2012, 2021]),
            "curb": {
                "weight": self.mass(curb), "front": self.mass(front),
                "includes": {"fuel": self.pick(["full", "full", "90 %"]), "driver": self.pick(["0 kg", "0 kg", "75 kg"])},
                "source": self.pick(["scale", "brochure"]),
            },
            "wheelbase": self.length(base), "overhang": self.length(hung),
            "length": self.length(base + 2.1), "front_overhang": self.length(0.9),
            "width": self.length(self.between(1.75, 2.1)), "height": self.length(self.between(1.4, 2.1)),
            "fuel": {
                "kind": self.pick(["gasoline", "gasoline", "diesel", "none"]),
                "capacity": self.volume(self.between(45, 130)),
                "ahead_of_rear_axle": self.length(self.between(0.1, 1.2)),
            },
            "connector": self.pick(["7-blade", "7-blade", "4-flat"] if self.imperial else ["13-pin", "7-pin-12n", "12-flat-au"]),
            "brake_controller": {"fitted": self.calm or self.chance(0.8)},
            "mirrors": {"span": self.length(2.75 if self.calm else self.between(2.0, 2.7)), "towing": self.calm or self.chance(0.6)},
            "seats": {"front": self.length(base * 0.5), "rear": self.length(0.4)},
        }  # fmt: skip
        if self.chance(0.3):
            made["seats"] = {"rear": made["seats"]["rear"], "front": made["seats"]["front"]}
        if self.chance(0.4):
            made["cargo"] = [
                {
                    "name": "tool chest", "weight": self.mass(self.between(20, 250), sure=False),
                    "ahead_of_rear_axle": self.length(self.between(-0.8, 1.0)),
                }
            ]  # fmt: skip
            if self.chance(0.5):
                made["cargo"][0]["set"] = "work"
        if self.chance(0.4):
            made["unladen_for_law"] = self.mass(curb)
        if self.chance(0.4):
            made |= {"front_axle_rate": "60 N/mm", "rear_axle_rate": f"{self.between(50, 120):.0f} N/mm"}
        if self.chance(0.2):
            made |= {"abs": self.chance(0.8), "charge_wire": True, "charge_display": self.chance(0.5)}
        return made

    def gear(self) -> Tree:
        made: Tree = {"weight": self.mass(self.between(0, 40))}
        self.fixed = self.kind == "ball" and not self.imperial and self.chance(0.6)
        if self.kind == "fifth_wheel":
            return made
        ball = self.pick([1.875, 2.0, 2.3125] if self.imperial else ["50 mm"])
        self.ball = ball if isinstance(ball, str) else f"{2.3125 if self.calm else ball} in"
        made["ball"] = {"diameter": self.ball, "shank": "1 in", "height": self.height(0.08)}
        if self.chance(0.3) and not self.calm:
            made["ball"]["measured"] = (
                f"{(model.si(self.ball) or 0) * 1000 - self.pick([0.1, 0.2, 1.1]):.1f} mm"
            )
        if self.kind == "gooseneck" or self.fixed:
            return made
        made["mount"] = {"drop": self.height(self.between(0.0, 0.15)), "shank": "2 in", "hole": "1 in"}
        if self.chance(0.35) and self.weight > 600:
            bars: Tree = {}
            stated = self.pick(["restoration", "moment", "arches", "restoration", ""])
            if stated == "restoration":
                bars["restoration"] = f"{self.pick([25, 50, 80, 100, 110])} %"
            if stated == "moment":
                bars["moment"] = f"{self.between(200, 1200):.0f} Nm"
            if stated == "arches":
                bars["arches"] = {"alone": "90.0 cm", "slack": "92.0 cm", "engaged": "91.0 cm"}
            made["weight_distribution"] = bars
        if self.chance(0.15):
            made["adapter"] = {
                "kind": self.pick(["reducer", "extension"]),
                "outside": "2 in",
                "inside": "2 in",
            }
        if self.chance(0.2):
            made["stock"] = [
                {
                    "name": "other mount",
                    "drop": self.height(self.between(-0.05, 0.2)),
                    "shank": "2 in",
                    "hole": "1 in",
                }
            ]
        made["sway_control"] = self.pick(["none", "friction", "integrated"])
        return made

    def cases(self, tree: Tree) -> list[Tree]:
        names = ["leaving home", "coming back", "third day"][: self.pick([1, 1, 2, 2, 3])]
        trailer = tree["trailer"]
        loose = [*trailer["cargo"], *tree["vehicle"].get("cargo", ())]
        sets = sorted({one["set"] for one in loose if "set" in one})
        out = []
        for name in names:
            case: Tree = {"name": name, "fuel": self.pick(["full", "1/2", "1/4"])}
            case["tanks"] = {tank: self.fill() for tank in trailer["tanks"]}
            case["cylinders"] = {one: self.fill() for one in trailer["cylinders"]}
            case["cargo"] = [one for one in sets if self.chance(0.7)]
            if trailer["batteries"] and self.chance(0.1):
                case["without"] = [trailer["batteries"][0]["name"]]
            if len(tree["occupants"]) > 1 and self.chance(0.4):
                aboard = [one["name"] for one in tree["occupants"]]
                case["occupants"] = aboard[: self.dice.randint(1, len(aboard))]
            out.append(case)
        return out
