"""Ratings and tires, drawn around what the rig asks of them."""

from __future__ import annotations

from tests.laws import model
from tests.laws.model import Figures, Tree
from tests.laws.outfit import Outfit
from tests.laws.writer import FACTORS, PSI, largest


class Plates(Outfit):
    """Writes every rating near its demand."""

    def ratings(self, tree: Tree, figures: list[Figures]) -> None:
        """Every rating, drawn around the largest demand over the cases [kg]."""
        trailer, vehicle, gear = tree["trailer"], tree["vehicle"], tree["gear"]

        def worst(*names: str) -> float | None:
            return largest(figures, *names)

        gross, tongue = worst("trailer_weight") or 500.0, worst("tongue_weight")
        light = model.number(trailer, "empty", "weight") or 0.0
        trailer["gvwr"] = self.mass(max(light * 1.001, (model.si(self.rated(gross)) or 0.0)))
        axle = worst(*(f"axle_{i + 1}{s}" for i in range(self.count) for s in ("", "_engaged")))
        axle = (
            (worst("trailer_axle_load", "trailer_axles_engaged") or 0) / self.count if axle is None else axle
        )
        trailer["axles"]["gawr"] = [self.rated(axle)] * self.count
        whole = model.si(trailer["gvwr"]) or 0.0
        trailer["cargo_capacity"] = self.mass(
            min(whole, max(10.0, (gross - light) * (1.6 if self.calm else self.pick(FACTORS))))
        )
        if self.market in ("au", "nz") or self.chance(0.1):
            trailer["gtm"] = self.mass(min(whole, model.si(self.rated(worst("trailer_axle_load"))) or whole))
        trailer["coupler"] = {"ratings": {"trailer": self.rated(gross), "tongue": self.rated(tongue)}}
        trailer["coupler"] |= {"height": self.height(0.45), "height_at": "ball_top"}
        if self.kind != "fifth_wheel":
            trailer["coupler"]["ball"] = self.ball if self.calm or self.chance(0.95) else "1 7/8 in"
        if self.kind != "ball":
            trailer["coupler"] |= {"height": self.height(1.22), "height_at": "plate"}
            vehicle["bed_hitch"] = {
                "kind": self.kind, "height": self.height(self.between(1.18, 1.28)),
                "ratings": {"trailer": self.rated(gross), "tongue": self.rated(tongue)},
            }  # fmt: skip
        else:
            vehicle["receiver"] = self.receiver(gross, tongue)
        if "ball" in gear:
            gear["ball"]["rating"] = self.rated(gross)
        for part in ("mount", "adapter", "weight_distribution"):
            if part in gear:
                gear[part]["ratings"] = {"trailer": self.rated(gross), "tongue": self.rated(tongue)}
        for one in gear.get("stock", ()):
            if self.chance(0.6):
                one["ratings"] = {"trailer": self.rated(gross), "tongue": self.rated(tongue)}
        self.vehicle_ratings(vehicle, figures)
        trailer["chains"] = {"count": self.pick([2, 2, 2, 1, 0]), "strength": self.rated(whole)}
        if self.calm:
            trailer["chains"] = {"count": 2, "strength": self.mass(max(whole * 1.5, 2300))}

    def vehicle_ratings(self, vehicle: Tree, figures: list[Figures]) -> None:
        """Ratings of the tow vehicle, drawn likewise [kg]."""

        def worst(*names: str) -> float | None:
            return largest(figures, *names)

        gross, tongue = worst("trailer_weight") or 500.0, worst("tongue_weight")
        curb = model.number(vehicle, "curb", "weight") or 0.0
        laden = max(curb * 1.001, model.si(self.rated(worst("vehicle_weight"))) or 0.0)
        vehicle["gvwr"] = self.mass(laden)
        vehicle["gawr"] = {
            "front": self.rated(worst("vehicle_front_axle", "front_alone", "front_axle_engaged")),
            "rear": self.rated(worst("vehicle_rear_axle")),
        }
        vehicle["gcwr"] = self.mass(
            max(laden * 1.001, model.si(self.rated(worst("combination_weight"))) or 0.0)
        )
        braked = self.rated(gross)
        vehicle["tow_rating"] = {"braked": braked, "unbraked": self.mass(min(model.si(braked) or 0, 750))}
        if self.chance(0.4):
            vehicle["tow_rating"]["tongue"] = self.rated(tongue)
        if self.kind == "ball" and self.chance(0.2):
            vehicle["tow_rating"]["weight_carrying"] = self.rated(gross)
        if self.kind == "ball" and self.chance(0.2):
            vehicle["tow_rating"]["needs_distribution_above"] = self.rated(gross)
        if self.market in ("us", "ca") or self.chance(0.3):
            vehicle["placard_capacity"] = self.rated(worst("placard_used"))

    def receiver(self, gross: float, tongue: float | None) -> Tree:
        made: Tree = {"weight_carrying": {"trailer": self.rated(gross), "tongue": self.rated(tongue)}}
        if self.fixed:
            made |= {"fixed_ball": True, "ball_height": self.height(self.between(0.34, 0.43))}
        else:
            made |= {
                "opening": "2 in" if self.calm or self.chance(0.93) else "1 1/4 in",
                "height": self.height(self.between(0.4, 0.6)),
            }
            made["weight_distributing"] = {"trailer": self.rated(gross), "tongue": self.rated(tongue)}
        if self.chance(0.4):
            made["height_hitched"] = self.height(self.between(0.38, 0.55))
        if self.market in ("uk", "eu") or self.chance(0.1):
            made["d_value"] = "40 kN" if self.calm else f"{self.between(6, 20):.1f} kN"
        return made

    def tires(self, tree: Tree, figures: list[Figures]) -> None:
        """Tires of both vehicles, their markings near what they carry."""
        trailer, vehicle = tree["trailer"], tree["vehicle"]

        def worst(*names: str) -> float:
            values = [f.get(name) for f in figures for name in names]
            return max((v for v in values if v is not None), default=800.0)

        per = 4 if self.chance(0.06) and self.weight > 2000 else 2
        if per == 4:
            trailer["axles"]["tires_per_axle"] = 4
        wheel = worst("trailer_axle_load", "trailer_axles_engaged") / self.count / per
        trailer["tires"] = self.tire(wheel, per == 4, "trailer")
        asked = model.number(trailer["tires"], "max_load_at") or 3e5
        label = asked / PSI * self.pick([1.0, 1.0, 1.0, 0.9, 1.1])
        trailer |= {"tire_pressure": self.pressure(label), "tire_size": trailer["tires"]["size"]}
        if self.chance(0.6):
            trailer["spare"] = (
                {**trailer["tires"], "same": True} if self.chance(0.6) else {"same": self.chance(0.3)}
            )
            if self.chance(0.4):
                trailer["spare"]["pressure"] = self.pressure(label)
        if self.chance(0.1):
            trailer["tires_by_table"] = True
        loads = {
            "front": worst("vehicle_front_axle", "front_alone", "front_axle_engaged") / 2,
            "rear": worst("vehicle_rear_axle") / 2,
        }
        dual = vehicle["kind"] == "pickup" and self.chance(0.15)
        vehicle["tires"] = {
            "front": self.tire(loads["front"], False, "vehicle"),
            "rear": self.tire(loads["rear"] / (2 if dual else 1), dual, "vehicle"),
        }
        if dual:
            vehicle["tires"]["rear_count"] = 4
        vehicle["tires"]["placard_size"] = (
            vehicle["tires"]["front"]["size"] if self.chance(0.9) else "P205/60R16"
        )
        for name in ("placard", "placard_towing")[: 2 if self.chance(0.3) else 1]:
            vehicle[name] = {end: self.pressure(self.between(32, 45)) for end in ("front", "rear")}

    def tire(self, load: float, dual: bool, where: str) -> Tree:
        rated = max(200.0, load * (1.9 if self.calm else self.pick((0.9, 0.98, 1.0, 1.03, 1.1, 1.2, 1.5))))
        year = self.pick(["24", "25"] if self.calm else ["17", "21", "24", "25"])
        made: Tree = {"date_code": f"{self.dice.randint(1, 52):02d}{year}"}
        if where == "trailer":
            kind = self.pick(["ST", "ST", "LT", "BIAS"] if self.imperial else ["C", "C", "EURO"])
        else:
            kind = self.pick(["P", "LT"] if self.imperial else ["EURO", "EURO", "C"])
        size = {
            "ST": "ST205/75R14", "LT": "LT245/75R16", "BIAS": "5.30-12", "C": "185R14C", "P": "P265/70R17",
            "EURO": "225/55R17",
        }[kind]  # fmt: skip
        made |= {"type": kind, "size": size, "max_load": self.mass(rated)}
        if kind in ("ST", "LT", "BIAS"):
            letter, psi = self.pick([("C", 50), ("D", 65), ("E", 80)])
            made |= {"load_range": letter, "max_load_at": self.pressure(psi)}
        elif kind == "C":
            made["max_load_at"] = self.pressure(65)
        else:
            made |= {"extra_load": self.chance(0.4), "max_pressure": self.pressure(50)}
        if kind in ("C", "EURO") and self.chance(0.5) and not self.calm:
            del made["max_load"]
            made["load_index"] = self.dice.randint(84, 112)
        if dual and "max_load" in made:
            made["max_load_dual"] = self.mass(rated * 0.92)
        made["speed_symbol"] = self.pick(
            ["N", "Q", "S", "V"] if self.calm else ["L", "M", "N", "Q", "S", "V"]
        )
        if self.chance(0.1):
            made["speed_limit"] = self.speed(65)
        if self.chance(0.15):
            made["rim_max_pressure"] = self.pressure(self.pick([50, 65, 90]))
        if self.chance(0.15):
            made["valve_max_pressure"] = self.pressure(self.pick([60, 80]))
        top = model.number(made, "max_load_at") or model.number(made, "max_pressure")
        if self.chance(0.25) and top is not None and "max_load" in made:
            rows = [(top * 0.6, rated * 0.7), (top * 0.8, rated * 0.86), (top, rated)]
            made["table"] = {
                "source": "maker's table, 2024",
                "rows": [{"pressure": self.pressure(p / PSI), "load": self.mass(q)} for p, q in rows],
            }
            if dual:
                for row, (_, q) in zip(made["table"]["rows"], rows, strict=True):
                    row["load_dual"] = self.mass(q * 0.92)
        return made
