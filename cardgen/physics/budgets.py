"""What the uncertainty of a printed figure is made of, worked out when the report asks for it."""

from __future__ import annotations

from collections.abc import Sequence

from cardgen.model.ranges import Contribution
from cardgen.model.results import Computed
from cardgen.physics.cases import case_figures
from cardgen.physics.loads import case_aboard
from cardgen.physics.uncertainty import sense
from cardgen.physics.weighing import weigh


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
    now = case_aboard(rig, rig.cases[index], index)
    found = sense(model, now, case_figures(model, now))
    return {name: model.inputs.budget(found[name]) if name in found else () for name in figures}
