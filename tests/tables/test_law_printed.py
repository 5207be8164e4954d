"""Rules of places: the printed thresholds and demands, tried on both sides."""

from __future__ import annotations

from dataclasses import replace

from cardgen.tables.exact import si
from cardgen.tables.facts import Facts
from cardgen.tables.law import (
    all_rules,
    evaluate,
    satisfied,
)
from tests.each import each


@each(
    ("rule_id", "fact", "printed", "below", "at", "above"),
    [
        ("us-tx.brakes", "gross", "15,000 lb", False, False, True),
        ("us-wa.breakaway", "gross", "3,000 lb", False, False, True),
        ("us-va.breakaway", "gross", "3,000 lb", False, True, True),
        ("us-ne.brakes", "gross", "3,000 lb", False, True, True),
        ("us-ne.brakes-all", "gross", "6,500 lb", False, True, True),
        ("us-nh.brakes", "gross", "3,000 lb", False, True, True),
        ("us-nh.brakes-house", "gross", "1,500 lb", False, False, True),
        ("us-ca.brakes-other", "gross", "3,000 lb", False, True, True),
        ("us-il.brakes-wheels", "gross", "5,000 lb", False, False, True),
        ("us-md.rear_frame", "gross", "3,000 lb", False, True, True),
        ("de.brakes", "axle_spacing", "1 m", False, True, True),
        ("nz.parking_brake", "gross", "2,500 kg", False, False, True),
        ("us-il.breakaway", "gross", "5,000 lb", False, False, True),
        ("us-nc.brakes", "gross", "4,000 lb", False, True, True),
        ("us-nc.brakes-house", "gross", "1,000 lb", False, True, True),
        ("us-fmcsa.breakaway", "gross", "3,000 lb", False, False, True),
        ("us-fmcsa.breakaway", "trailer_axles", "40 kg", False, False, True),
        ("us-fmcsa.brakes", "trailer_axles", "40 kg", False, False, True),
        ("us-wa.brakes", "trailer_axles", "40 kg", False, False, True),
        ("us-md.brakes", "trailer_axles", "40 kg", False, False, True),
        ("us-md.brakes", "registered_gross", "3,000 lb", False, False, True),
        ("uk.brakes", "gross", "750 kg", False, False, True),
        ("uk.brakes-plate", "gvwr", "750 kg", False, False, True),
        ("uk.breakaway", "gvwr", "1,500 kg", False, False, True),
        ("uk.breakaway-or-coupling", "gvwr", "750 kg", False, False, True),
        ("uk.breakaway-or-coupling", "gvwr", "1,500 kg", True, True, False),
        ("uk.length", "tow_gvwr", "3,500 kg", True, True, False),
        ("eu.brakes", "gvwr", "750 kg", False, False, True),
        ("eu.breakaway", "gvwr", "1,500 kg", False, False, True),
        ("eu.breakaway-or-coupling", "gvwr", "750 kg", False, False, True),
        ("eu.breakaway-or-coupling", "gvwr", "1,500 kg", True, True, False),
        ("eu.secondary_coupling", "gvwr", "750 kg", True, True, False),
        ("au.brakes", "gtm", "750 kg", False, False, True),
        ("au.brakes-all", "gtm", "2,000 kg", False, False, True),
        ("au.breakaway", "gtm", "2,000 kg", False, False, True),
        ("au-nsw.breakaway", "gtm", "2,000 kg", False, False, True),
        ("au-tas.brakes", "gtm", "750 kg", False, False, True),
        ("au.chains", "gvwr", "2,500 kg", True, True, False),
        ("au.chains-two", "gvwr", "2,500 kg", False, False, True),
        ("au.chains-two", "gvwr", "3,500 kg", True, True, False),
        ("nz.chains", "gross", "2,000 kg", True, True, False),
        ("nz.chains-two", "gross", "2,000 kg", False, False, True),
        ("nz.chains-two", "gross", "2,500 kg", True, True, False),
        ("nz.brakes", "gross", "2,000 kg", False, False, True),
        ("nz.brakes-all", "gross", "2,500 kg", False, False, True),
        ("nz.breakaway", "gross", "2,500 kg", False, False, True),
        ("ca-bc.brakes", "gross", "1,400 kg", False, False, True),
        ("ca-bc.brakes-all", "gross", "2,800 kg", False, False, True),
        ("ca-bc.breakaway", "gross", "1,400 kg", False, False, True),
        ("ca-bc.brakes", "gross", "500 kg", False, False, True),
    ],
)
def test_printed_thresholds(
    rule_id: str, fact: str, printed: str, below: bool, at: bool, above: bool
) -> None:
    rule = next(r for r in all_rules() if r.id == rule_id)
    heavy = si(printed) > 600
    # ratios are probed against 1,000 kg (gross) and 100 kg (axles), plain figures behind 50 t
    base = Facts(
        gross=100.0,
        gvwr=100.0,
        trailer_axles=10.0,
        tow_axles=100.0,
        tow_gross=50000.0 if heavy else 1000.0,
        tow_unladen=50000.0 if heavy else 1000.0,
        planned_speed=5.0,
        registered_gross=100.0,
        trailer_year=2015.0,
        axle_count=2.0,
        axle_spacing=0.5,
        coupling="ball",
        tow_gawr=100.0,
        body=rule.bodies[0] if rule.bodies else "boat",
    )
    value = si(printed)
    got = [
        evaluate(rule, replace(base, **{fact: value * step}))  # type: ignore[arg-type]  # by name
        for step in (1 - 1e-6, 1.0, 1 + 1e-6)
    ]
    assert got == [below, at, above]


# what a binding rule asks: rule, fact, printed value, whether it is met below, at, above
@each(
    ("rule_id", "fact", "printed", "below", "at", "above"),
    [
        ("uk.unbraked", "gross", "750 kg", True, True, False),
        ("eu.unbraked", "gross", "750 kg", True, True, False),
        ("nz.unbraked", "gross", "37500 kg", True, True, False),
        ("uk.tow_ratio", "gvwr", "42500 kg", True, True, False),
        ("uk.length", "body_length", "7 m", True, True, False),
        ("uk.width", "trailer_width", "2.55 m", True, True, False),
        ("us-md.size", "trailer_width", "96 in", True, True, False),
        ("us-md.lp_tunnel", "cylinder_largest", "10 lb", True, True, False),
        ("us-wa.lp_ferry", "lp_total", "100 lb", True, True, False),
        ("us-ca.speed", "planned_speed", "55 mph", True, True, False),
        ("nz.chains-two", "chain_each", "200 kg", False, None, None),
        ("us-nh.chains", "chain_each", "100 kg", False, True, True),
        ("us-or.chains", "chain_each", "100 kg", False, True, True),
        ("ca-on.chains", "chain_each", "100 kg", False, True, True),
        ("us-fmcsa.chains", "chain_total", "100 kg", None, True, True),
        ("us-ca.chains", "chain_each", "100 kg", None, True, True),
        ("us-va.chains", "chain_each", "100 kg", None, True, True),
        ("us-il.chains", "chain_each", "100 kg", None, True, True),
        ("nz.chains-two", "chain_link", "7.1 mm", False, None, None),
        ("de.nose_weight", "tongue", "25 kg", False, True, True),
        ("de.chocks", "chocks", "2", False, True, True),
        ("au.chains-two", "chain_mark", "3,500 kg", False, True, True),
    ],
)
def test_printed_demands(
    rule_id: str, fact: str, printed: str, below: bool | None, at: bool | None, above: bool | None
) -> None:
    rule = next(r for r in all_rules() if r.id == rule_id)
    base = Facts(
        gross=1000.0 if fact == "tongue" else 100.0,
        gvwr=750.0,
        tow_unladen=50000.0,
        chain_count=2.0,
        chain_each=4000.0,
        chain_mark=4000.0,
        chain_link=0.008,
        cylinder_count=2.0,
        breakaway=False,
        combination_height=2.0,
    )
    got = [
        satisfied(rule, replace(base, **{fact: si(printed) * step}))  # type: ignore[arg-type]  # by name
        for step in (1 - 1e-6, 1.0, 1 + 1e-6)
    ]
    assert got == [below, at, above]


@each(
    ("rule_id", "count"),
    [
        ("us-ca.chains", 1),
        ("us-va.chains", 1),
        ("us-tx.chains", 1),
        ("us-wa.chains", 2),
        ("us-il.chains", 2),
        ("au.chains", 1),
        ("au.chains-two", 2),
    ],
)
def test_number_of_chains(rule_id: str, count: int) -> None:
    rule = next(r for r in all_rules() if r.id == rule_id)
    strong = Facts(gross=100.0, gvwr=3000.0, chain_each=4000.0, chain_mark=4000.0)
    enough = replace(strong, chain_count=float(count))
    hidden = rule.unread and rule.unread_unless is None  # part of the text is no fact of a rig
    assert satisfied(rule, enough) is (None if hidden else True)
    assert satisfied(rule, replace(enough, chain_each=1.0)) is not True
    assert satisfied(rule, replace(enough, chain_count=float(count - 1))) is False
