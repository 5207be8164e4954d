"""The result of one loading case, and what the uncertainty of its figures is made of."""

from __future__ import annotations

from collections.abc import Sequence

from cardgen.model.ranges import Contribution
from cardgen.model.results import CaseResult, Computed
from cardgen.physics.figures import beside_the_file, case_figures
from cardgen.physics.load_model import LoadModel
from cardgen.physics.loads import case_aboard
from cardgen.physics.statics import statics
from cardgen.physics.sway import indicators
from cardgen.physics.weighing import weigh


def case_result(model: LoadModel, index: int) -> CaseResult:
    """Work out all figures of one loading case [SI], with uncertainty.

    Args:
        model: the load model (masses [kg], arms [m]).
        index: number of the case, from 0 [-].

    Source: see the functions it calls.
    """
    case = model.rig.cases[index]
    now = case_aboard(model.rig, case, index)
    numbers = statics(model, now)
    figures = case_figures(model, now, numbers)
    if model.file is not None:
        figures = beside_the_file(model, figures, numbers, statics(model.file, now))
    sway = indicators(model, case.name, now, figures["tongue_share"].value)
    return CaseResult(case.name, figures, now.shares, sway)


def budgets(computed: Computed, case: str, figures: Sequence[str]) -> dict[str, tuple[Contribution, ...]]:
    """List what each uncertain input adds to some figures of a loading case, largest first.

    Args:
        computed: figures of the rig.
        case: name of the loading case [-].
        figures: ids of the figures [-].

    Returns:
        Contributions by id of figure [SI unit of the figure]; a figure that is unknown, or
        has no uncertain input, has none.

    Raises:
        ValueError: when there is no such loading case.

    Source: JCGM 100:2008 5.1.2.
    """
    rig = computed.rig
    names = [one.name for one in rig.cases]
    if case not in names:
        raise ValueError(f"no loading case '{case}'")
    index = names.index(case)
    model, _ = weigh(rig)
    numbers = statics(model, case_aboard(rig, rig.cases[index], index))
    return {name: model.inputs.budget(numbers[name]) if name in numbers else () for name in figures}
