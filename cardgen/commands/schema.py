"""``cardgen schema``: the JSON Schema of rig files, for editors."""

from __future__ import annotations

import argparse
import json

from cardgen.commands.exits import Exit

HELP = "print the JSON Schema of rig files"


def add(parser: argparse.ArgumentParser) -> None:
    """Declare the arguments."""
    parser.description = (
        "Print the JSON Schema (draft 2020-12) that editors use to complete and check rig files."
    )


def schema_text() -> str:
    """Return the schema as text, the same for every run."""
    from cardgen.model.rig import Rig
    from cardgen.source.schema import json_schema

    return json.dumps(json_schema(Rig, "rig"), indent=1, ensure_ascii=False, sort_keys=True) + "\n"


def run(args: argparse.Namespace) -> int:
    """Print the schema."""
    print(schema_text(), end="")
    return Exit.FINE
