"""Laws 8 to 10: reach by brute force, who may forbid towing, and one decision everywhere."""

from __future__ import annotations

import tempfile
from collections.abc import Iterator
from pathlib import Path
from random import Random

from cardgen.model.results import Basis, Outcome
from tests.laws import model
from tests.laws.documents import DAY, fluids_of
from tests.laws.model import at, number
from tests.laws.subject import CLOSE, OPEN, OVER, RANK, WITHIN, Subject, Violation, law, rule_of

# --- 8: the envelope is brute force's ------------------------------------------------------


@law(8, "envelope")
def envelope(subject: Subject, dice: Random, whole: bool) -> Iterator[Violation]:
    """Both ends of every range over all fillings are those of trying every corner."""
    if subject.anchored:
        return
    ends: dict[str, tuple[float, float]] = {}
    lost: set[str] = set()
    for loads in model.fillings(subject.tree, fluids_of(subject.tree), 1500 if not whole else 20000):
        for name, value in model.totals(subject.tree, loads).items():
            if value is None:
                lost.add(name)
                continue
            low, high = ends.get(name, (value, value))
            ends[name] = (min(low, value), max(high, value))
    stated = at(subject.tree, "limits", "water_from_fresh_only")
    for name, (low, high) in ends.items():
        reach = subject.computed.envelope.get(name)
        if reach is None or name in lost or reach.low is None or reach.high is None:
            continue
        slack = 1e-6 * max(1.0, abs(high), abs(low)) if name != "tongue_share" else 1e-9
        if abs(reach.low - low) > slack or abs(reach.high - high) > slack:
            yield Violation(
                f"{name}, water_from_fresh_only {stated}",
                f"{name}: {reach.low:.3f} to {reach.high:.3f}, brute force {low:.3f} to {high:.3f}", subject.tree,
            )  # fmt: skip


@law(8, "statics")
def statics(subject: Subject, dice: Random, whole: bool) -> Iterator[Violation]:
    """Every figure of every case that no scale set is the model's."""
    if subject.weighed:
        return
    for case, known_ in zip(subject.computed.cases, subject.figures, strict=True):
        for name, value in known_.items():
            figure = case.figures.get(name)
            if figure is None:
                continue
            if (figure.value is None and value is not None) or (figure.value is not None and value is None):
                yield Violation(
                    f"{name}: unknown", f"{name}: {figure.value} here, {value} by the model", subject.tree
                )
            elif (
                value is not None
                and figure.value is not None
                and abs(figure.value - value) > 1e-6 * max(1.0, abs(value))
            ):
                yield Violation(
                    name, f"{name}: {figure.value:.3f} here, {value:.3f} by the model", subject.tree
                )


# --- 9: who may say "Do not tow" -----------------------------------------------------------

FORBID = (Basis.MAKER, Basis.LAW, Basis.COMMERCIAL_LAW)
NO_COUPLING = ("ball-size", "ball-wear", "shank-fit", "adapter-fit", "ball-hole-fit", "connector")


def _forbids(subject: Subject, bases: tuple[Basis, ...]) -> Iterator[Violation]:
    for code, one in subject.findings.items():
        rule = rule_of(code).removeprefix("weighed-")
        if one.outcome is not OVER or one.basis not in bases or rule in (*NO_COUPLING, "tongue-share"):
            continue
        if one.basis is Basis.OWNER and rule == "tongue-weight":
            continue
        yield Violation(
            f"{rule}: {one.basis.value}",
            f"{code} is over by {one.basis.value}: {one.message[:120]}",
            subject.tree,
        )


@law(9, "guidance")
def guidance_forbids(subject: Subject, dice: Random, whole: bool) -> Iterator[Violation]:
    """Guidance, habit and rules read in part are never *over*."""
    yield from _forbids(subject, (Basis.GUIDANCE, Basis.PRACTICE))


@law(9, "standards")
def standard_forbids(subject: Subject, dice: Random, whole: bool) -> Iterator[Violation]:
    """A voluntary standard is never *over*."""
    yield from _forbids(subject, (Basis.STANDARD,))


@law(9, "age and equipment")
def others_forbid(subject: Subject, dice: Random, whole: bool) -> Iterator[Violation]:
    """Age, and parts that couple but lack something, are never *over*; the owner's own tongue band may be."""
    yield from _forbids(subject, (Basis.OWNER, Basis.PHYSICS))


@law(9, "critical")
def critical(subject: Subject, dice: Random, whole: bool) -> Iterator[Violation]:
    """What is *over* forbids towing: there is no *over* that the exit code may or may not count."""
    for code, one in subject.findings.items():
        if one.outcome is OVER and not one.critical:
            yield Violation(
                f"{rule_of(code)}: {one.basis.value}", f"{code} is over and not critical", subject.tree
            )


def _surely(subject: Subject, least: float, most: float = 1.0) -> bool:
    """Whether a share is below or above so much also where heights that were not measured help it most."""
    tops, bottoms = [], []
    for case in subject.computed.cases:
        tongue, weight = case.figures["tongue_weight"], case.figures["trailer_weight"].value
        assert tongue.value is not None
        assert weight
        more = 0.0 if tongue.low is None else tongue.value - tongue.low
        tops.append((tongue.value + more) / weight)
        bottoms.append((tongue.value - more) / weight)
    return min(tops) < least or max(bottoms) > most


@law(9, "tongue share")
def tongue_share(subject: Subject, dice: Random, whole: bool) -> Iterator[Violation]:
    """Too little on the tongue is *close*, far too little or a lifting tongue *over*; more than a band is *within*."""
    if subject.weighed or "tongue-share" not in subject.findings:
        return
    from cardgen.tables.tongue import share_band  # the published band itself

    tree, found = subject.tree, subject.findings["tongue-share"]
    trailer = tree["trailer"]
    owner = at(tree, "limits", "tongue_share")
    published = share_band(trailer["type"], trailer["body"], tree["market"])
    low, high = (
        (number(owner, "low") or 0.0, number(owner, "high") or 1.0)
        if owner
        else (published.low, published.high)
    )
    tongues = [c.figures["tongue_weight"] for c in subject.computed.cases]
    shares = [f["tongue_share"] for f in subject.figures]
    if any(s is None for s in shares) or any(t.value is None for t in tongues):
        return
    lifts = any(t.value is not None and t.value - 2 * (t.u or 0.0) <= 0 for t in tongues)
    sure = [s for s in shares if s is not None]
    outside = min(sure) < low - 1e-9 or max(sure) > high + 1e-9
    sure_of = _surely(subject, low, high) if owner else _surely(subject, low / 2)
    if lifts or (owner and outside) or min(sure) < low / 2 - 1e-9:
        wanted: tuple[Outcome, ...] = (OVER,) if lifts or sure_of else (OVER, OPEN)
    elif min(sure) < low - 1e-9:
        wanted = (CLOSE,)
    else:
        wanted = (WITHIN, CLOSE)
    why = "lifts" if lifts else "owner's band" if owner else "guidance"
    if found.outcome not in wanted:
        end = "below" if min(sure) < low else "above" if max(sure) > high else "inside"
        yield Violation(
            f"{why}, {end}: {found.outcome.value}",
            f"shares {', '.join(f'{s:.1%}' for s in sure)} of {low:.0%} to {high:.0%} ({why}): {found.outcome.value}, wanted {wanted[0].value}", tree,
        )  # fmt: skip


# --- 10: one decision everywhere -----------------------------------------------------------


@law(10, "exit code")
def exit_code(subject: Subject, dice: Random, whole: bool) -> Iterator[Violation]:
    """The rig as a whole is over when, and only when, a check that forbids towing is."""
    forbids = sorted(c for c, f in subject.findings.items() if f.outcome is OVER and f.critical)
    told = subject.plain.outcome()
    if (told is OVER) != bool(forbids):
        only = sorted({rule_of(c) for c, f in subject.findings.items() if f.outcome is OVER})
        yield Violation(
            f"{told.value} by {', '.join(only)}",
            f"outcome {told.value}, forbidding checks {forbids}",
            subject.tree,
        )


@law(10, "card", every=4)
def card(subject: Subject, dice: Random, whole: bool) -> Iterator[Violation]:
    """The banner of the cards, the JSON and the report say the same level."""
    from cardgen.present.cards.pieces import banner
    from cardgen.present.results import results
    from cardgen.present.rig_view import LEVELS

    told = subject.rig_view.assessment.outcome()
    said = results(subject.rig_view)
    if said["outcome"] != told.value:
        yield Violation("JSON", f"JSON says {said['outcome']}, the assessment {told.value}", subject.tree)
    level = banner(subject.rig_view).level
    if level != LEVELS[told]:
        yield Violation(
            f"banner {level}", f"the banner says {level}, the assessment {told.value}", subject.tree
        )
    for one in said["findings"]:
        if subject.findings[one["code"]].outcome.value != one["outcome"]:
            yield Violation(rule_of(one["code"]), f"{one['code']} is {one['outcome']} in JSON", subject.tree)


@law(10, "matrix", every=4)
def matrix(subject: Subject, dice: Random, whole: bool) -> Iterator[Violation]:
    """The cell of a rig's own vehicle and trailer says what the rig's own assessment says, and knows its own."""
    from cardgen.bundle.pages import known_rigs
    from cardgen.model.shelf import pair, read_shelf
    from cardgen.present.matrix import cell
    from tests.laws.documents import text_of

    with tempfile.TemporaryDirectory() as folder:
        rigs = Path(folder)
        for kind in ("vehicle", "trailer"):
            part = rigs / "parts" / f"{kind}s" / "one.yaml"
            part.parent.mkdir(parents=True)
            part.write_text(text_of(subject.tree[kind]), "utf-8")
        parts = {kind: {"part": f"{kind}s/one"} for kind in ("vehicle", "trailer")}
        (rigs / "rig.yaml").write_text(text_of(subject.tree | parts), "utf-8")
        known = tuple(known_rigs([rigs / "rig.yaml"]))
        made = cell(pair(read_shelf(rigs), "vehicles/one", "trailers/one", known), DAY)
    told = subject.plain.outcome()
    if made.own != subject.rig.nickname:
        yield Violation(
            "own pair not found",
            "the rig's own vehicle and trailer from the shelf are not its own pair",
            subject.tree,
        )
    if made.word != told.value:
        yield Violation(
            f"cell {made.word}, rig {told.value}",
            f"the cell says {made.word}, the rig {told.value}",
            subject.tree,
        )


@law(10, "what-if", every=8)
def what_if(subject: Subject, dice: Random, whole: bool) -> Iterator[Violation]:
    """The what-if page at the rig's own cases says what the checks say, the worst case speaking."""
    from cardgen.present.whatif import what_if as page
    from tests.laws.page import Sheet

    laid = page(subject.rig_view)
    if laid is None:
        return
    cases = [(Sheet(laid.data, i), preset["shares"]) for i, preset in enumerate(laid.data["presets"])]
    for check in laid.data["checks"]:
        said = [sheet.judge(check, shares) for sheet, shares in cases]
        worst = max(said, key=lambda word: RANK[Outcome(word)])
        told = subject.findings[check["code"]].outcome
        if Outcome(worst) is not told:
            yield Violation(
                f"{rule_of(check['code'])}: page {worst}, rig {told.value}",
                f"{check['code']}: the page says {worst} at the rig's own cases, the rig {told.value}", subject.tree,
            )  # fmt: skip
    for place, plan in laid.data["tires"].items():
        said = [sheet.tire(plan, shares) for sheet, shares in cases]
        worst = max(said, key=lambda word: RANK[Outcome(word)])
        load, pressure = (
            subject.findings.get(f"tire-load-{place}"),
            subject.findings.get(f"tire-pressure-{place}"),
        )
        told = max((f.outcome for f in (load, pressure) if f is not None), key=lambda o: RANK[o])
        if (worst == OVER.value) != (told is OVER) or (worst in (WITHIN.value, CLOSE.value) and told is OPEN):
            yield Violation(
                f"tires {place}: page {worst}, rig {told.value}",
                f"{place} tires: the page says {worst}, the rig {told.value}",
                subject.tree,
            )


@law(10, "what-if moved", every=8)
def what_if_moved(subject: Subject, dice: Random, whole: bool) -> Iterator[Violation]:
    """The what-if page at other settings passes nothing and stops nothing that the program does not."""
    from cardgen.limits.assess import assess
    from cardgen.physics.compute import compute
    from cardgen.physics.weighing import weigh
    from cardgen.present.whatif import case_of, rig_with
    from cardgen.present.whatif import what_if as page
    from tests.laws.page import Sheet

    laid = page(subject.rig_view)
    if laid is None:
        return
    ends = [
        {"temperature": (10,), "switch": (0, 100)}.get(c["kind"], (0, 30, 100)) for c in laid.data["controls"]
    ]
    positions = [dice.choice(one) for one in ends]
    rig = rig_with(subject.rig, case_of(subject.rig, laid.data, positions))
    computed = compute(rig, deep=False, ground=weigh(subject.rig)[0])
    told = {f.code: f for f in assess(computed, DAY, advise=False).findings}
    sheet = Sheet(laid.data, None)
    shares = sheet.shares(positions)
    for check in laid.data["checks"]:
        said, found = sheet.judge(check, shares), told.get(check["code"])
        if found is None:
            continue
        # where file and scale differed in a case, the page keeps what lies between them for every setting
        looked = {
            *check["of"],
            *(("tongue_weight", "trailer_weight") if "tongue_share" in check["of"] else ()),
        }
        stricter = looked & {*sheet.rivals} and RANK[Outcome(said)] > RANK[found.outcome]
        if said != found.outcome.value and not stricter:
            yield Violation(
                f"{rule_of(check['code'])}: page {said}, rig {found.outcome.value}",
                f"{check['code']} at {positions}: the page says {said}, the rig {found.outcome.value}", subject.tree,
            )  # fmt: skip
    for place, plan in laid.data["tires"].items():
        said = sheet.tire(plan, shares)
        rules = [told[code] for code in (f"tire-load-{place}", f"tire-pressure-{place}") if code in told]
        worst = max((f.outcome for f in rules), key=lambda o: RANK[o])
        if RANK[Outcome(said)] < RANK[worst] and (worst in (OVER, OPEN) or said == WITHIN.value):
            yield Violation(
                f"tires {place}: page {said}, rig {worst.value}",
                f"{place} tires at {positions}: the page says {said}, the rig {worst.value}",
                subject.tree,
            )
