"""``cardgen schema``: the JSON Schema of rig files, for editors."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path

from cardgen.commands import common
from cardgen.commands.exits import Exit

HELP = "print the JSON Schema of rig files, so that editors complete and check them"
_OURS = "made by cardgen schema"


def add(parser: argparse.ArgumentParser) -> None:
    """Declare the arguments."""
    parser.description = (
        "Print the JSON Schema (draft 2020-12) that editors use to complete and check rig files. "
        "'cardgen new' puts it beside the rig files, whose first line names it. The schema lets pass "
        "what the command lets pass in shape; units, sizes and sense are judged by 'cardgen check'."
    )
    parser.add_argument("--out", type=Path, metavar="FILE", help="write it there, over an older one of ours")


def schema_text() -> str:
    """Return the schema as text, the same for every run."""
    import json

    from cardgen.model.rig import Rig
    from cardgen.source.schema import json_schema

    made = {"$comment": _OURS, **json_schema(Rig, "cardgen rig file")}
    return json.dumps(made, indent=1, ensure_ascii=False, sort_keys=True) + "\n"


def put(path: Path, text: str) -> str | None:
    """Write a schema to a file that is missing or is an older schema of ours.

    Args:
        path: the file.
        text: the schema [-].

    Returns:
        What was in the way, in words; None when the file now holds the schema.
    """
    from cardgen.bundle.disk import replace_whole

    if not path.exists() and not path.is_symlink():
        return common.write_new(path, text)
    try:
        old = path.read_text(encoding="utf-8")
        if old == text:
            return None
        if path.is_symlink() or f'"$comment": "{_OURS}"' not in old[:200]:
            return f"'{path}' is not a schema written by cardgen and is left as it is"
        replace_whole(path, text.encode("utf-8"))
    except (OSError, UnicodeDecodeError) as problem:
        return f"'{path}' cannot be written: {getattr(problem, 'strerror', None) or problem}"
    return None


def run(args: argparse.Namespace) -> int:
    """Print or write the schema."""
    text = schema_text()
    if args.out is None:
        sys.stdout.write(text)
        return Exit.FINE
    trouble = put(args.out, text)
    if trouble is not None:
        common.say(trouble)
        return Exit.REFUSED
    print(args.out)
    return Exit.FINE
