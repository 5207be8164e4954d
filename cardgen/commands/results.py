"""``cardgen results``: every computed value, finding and checklist line, for other programs."""

from __future__ import annotations

import argparse
import json

from cardgen.commands import common
from cardgen.commands.exits import Exit
from cardgen.commands.streams import is_utf8

HELP = "print every computed value with its provenance"


def add(parser: argparse.ArgumentParser) -> None:
    """Declare the arguments."""
    common.add_rigs(parser, many=False)
    common.add_day(parser)
    common.add_units(parser)
    parser.add_argument("--json", action="store_true", help="print JSON (rigs/REFERENCE.md tells its shape)")


def run(args: argparse.Namespace) -> int:
    """Print the results of one rig."""
    from cardgen.model.results import Outcome
    from cardgen.present.results import results

    paths, faults = common.rig_paths(args.rigs, args.rigs_dir)
    if common.refused(faults):
        return Exit.USAGE
    _, result = next(iter(common.read_rigs(paths)))
    if result.rig is None:
        return Exit.FAULTS
    rig_view = common.view_of(result, args)
    made = results(rig_view)
    if args.json:
        print(json.dumps(made, indent=2, ensure_ascii=not is_utf8(), allow_nan=False))
    else:
        for case in made["cases"]:
            print(case["name"])
            for figure in case["figures"].values():
                print(f"  {figure['label']}: {figure['shown'] or 'not checked'}")
        print("rig")
        for figure in made["figures"].values():
            print(f"  {figure['label']}: {figure['shown'] or 'not checked'}")
    return Exit.OVER if rig_view.assessment.outcome() is Outcome.OVER else Exit.FINE
