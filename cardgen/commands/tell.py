"""What a build did: words for people, JSON for programs, and the exit code."""

from __future__ import annotations

import json
import sys
from pathlib import Path
from typing import Any

from cardgen.bundle.build import BuildResult
from cardgen.bundle.work import RigBuild
from cardgen.commands.common import say
from cardgen.commands.exits import Exit
from cardgen.commands.streams import is_utf8

FORMAT = 1
_MANY = 30
"""From this many rigs on, those that are as they should be get no line of their own."""


def exit_code(result: BuildResult) -> Exit:
    """The code for what needs attention most."""
    rigs = result.rigs
    if any(rig.bug for rig in rigs):
        return Exit.BUG
    if any(rig.missing for rig in rigs):
        return Exit.ENVIRONMENT
    if any(rig.status == "failed" for rig in rigs):
        return Exit.FAULTS
    return Exit.OVER if any(rig.over for rig in rigs) else Exit.FINE


def print_result(result: BuildResult, out: Path, *, quiet: bool, silent: bool = False) -> None:
    """Print what was done on stdout, and what is wrong on stderr.

    Args:
        result: of the build.
        out: output folder.
        quiet: only what needs attention.
        silent: nothing on stdout.
    """
    if result.finished:
        print(
            "an earlier build was interrupted while it swapped files in; that is finished now",
            file=sys.stderr,
        )
    few = len(result.rigs) < _MANY
    for rig in result.rigs:
        _wrong(rig)
        raised = rig.new_revision and rig.number > 1
        worth_a_line = rig.over or raised or (few and not quiet)
        if rig.status != "failed" and worth_a_line and not silent:
            for line in _lines(rig):
                print(line)
    if silent:
        return
    for slug in result.removed:
        print(f"{out / slug}: {_gone(result, slug)}")
    for part, names in result.parts.items():
        print(f"{part} changed: used by {', '.join(names)}")
    for name, source in result.behind.items():
        print(
            f"{name}: not built, though a part of it changed; its pages say so: cardgen build {Path(source).stem}"
        )
    _notes(result, quiet=quiet)
    print(counts_line(result, out))


def _wrong(rig: RigBuild) -> None:
    for fault in rig.faults:
        say(str(fault))
    for problem in rig.problems:
        say(f"{rig.file}: {problem}; nothing was written for this rig")
    for missing in rig.missing:
        say(f"{rig.file}: {missing}")
    if rig.warning:
        say(f"{rig.file}: warning: {rig.warning}")
    if rig.bug:
        say(f"{rig.file}: a bug in cardgen, please report it:\n{rig.bug.rstrip()}")
    if rig.kept:
        say(f"{rig.file}: not built; its earlier output stays ({rig.kept})")


def _lines(rig: RigBuild) -> list[str]:
    words = f"{rig.nickname}: {rig.status}, revision {rig.number} of {rig.day}, {rig.outcome}"
    lines = [words]
    for sentence in rig.over:
        lines.append(f"  OVER: {sentence}")
    if rig.over:
        lines.append("  Do not tow as described.")
    if rig.new_revision and rig.number > 1:
        lines += [f"  {change}" for change in rig.changes]
        again = (
            f"{title} (can wait)" if name in rig.waits else title
            for name, title in zip(rig.again, rig.reprint, strict=True)
        )
        lines.append(f"  print again: {', '.join(again) or 'nothing'}")
    return lines


def _gone(result: BuildResult, slug: str) -> str:
    """Why the output of a rig was removed."""
    name = result.renamed.get(slug)
    if name is None:
        return "removed, its rig is gone"
    if result.followed:
        return f"now called {name}; old addresses say so, and its revisions go on"
    begun = f"removed, its rig is called {name} now and begins with revision 1"
    return f"{begun}; if it is the same rig, take its new revisions out and build it with --renamed {slug}"


def _notes(result: BuildResult, *, quiet: bool) -> None:
    """Notes, each once with the rigs it is about."""
    if quiet:
        return
    about: dict[str, list[str]] = {}
    for rig in result.rigs:
        for note in rig.notes:
            about.setdefault(note, []).append(rig.nickname)
    for note, names in about.items():
        who = "all rigs" if len(names) == len(result.rigs) > 1 else ", ".join(names[:5])
        more = f" and {len(names) - 5} more" if who != "all rigs" and len(names) > 5 else ""
        print(f"note, {who}{more}: {note}")


def counts(result: BuildResult) -> dict[str, int]:
    """Count rigs by what came of them."""
    rigs = result.rigs
    return {
        "rigs": len(rigs),
        "built": sum(rig.status == "built" for rig in rigs),
        "unchanged": sum(rig.status == "unchanged" for rig in rigs),
        "failed": sum(rig.status == "failed" for rig in rigs),
        "over": sum(bool(rig.over) for rig in rigs),
        "new_revisions": sum(rig.new_revision for rig in rigs),
        "removed": len(result.removed),
        "files_written": result.written,
    }


def counts_line(result: BuildResult, out: Path) -> str:
    """One line that sums up a build."""
    found = counts(result)
    rigs = "1 rig" if found["rigs"] == 1 else f"{found['rigs']} rigs"
    words = [f"{rigs}: {found['built']} built, {found['unchanged']} unchanged"]
    words += [f"{found[name]} {name}" for name in ("failed", "over", "removed") if found[name]]
    return f"{', '.join(words)}; open {out / 'index.html'}"


def as_json(result: BuildResult, code: int, seconds: float) -> dict[str, Any]:
    """The machine-readable summary; keys are only ever added within a format.

    Args:
        result: of the build.
        code: exit code.
        seconds: how long it took [s].
    """
    return {
        "format": FORMAT,
        "exit": int(code),
        "meaning": Exit(code).name.lower(),
        "seconds": round(seconds, 3),
        "counts": counts(result),
        "removed": list(result.removed),
        "renamed": result.renamed,
        "changed_parts": result.parts,
        "behind": list(result.behind),
        "rigs": [_rig(rig) for rig in result.rigs],
    }


def _rig(rig: RigBuild) -> dict[str, Any]:
    return {
        "file": rig.file,
        "status": rig.status,
        "slug": rig.slug,
        "nickname": rig.nickname,
        "outcome": rig.outcome,
        "over": list(rig.over),
        "revision": rig.number,
        "date": rig.day,
        "new_revision": rig.new_revision,
        "changes": list(rig.changes),
        "reprint": list(rig.reprint),
        "reprint_ids": list(rig.again),
        "can_wait_ids": list(rig.waits),
        "withdrawn_ids": list(rig.withdrawn),
        "faults": [
            {"file": f.file, "line": f.line, "column": f.col, "code": f.code, "field": f.field}
            | {"message": f.message, "hint": f.hint}
            for f in rig.faults
        ],
        "problems": list(rig.problems),
        "missing": list(rig.missing),
        "bug": rig.bug,
        "notes": list(rig.notes),
        "kept": rig.kept,
        "warning": rig.warning,
    }


def write_json(result: BuildResult, file: Path, code: int, seconds: float) -> None:
    """Write the summary to a file, or to stdout for ``-``; raises OSError."""
    escape = file == Path("-") and not is_utf8()
    text = json.dumps(as_json(result, code, seconds), indent=1, ensure_ascii=escape) + "\n"
    if file == Path("-"):
        sys.stdout.write(text)
        return
    from cardgen.bundle.disk import replace_whole

    replace_whole(file, text.encode("utf-8", "backslashreplace"))
