"""The long run: a coverage-guided fuzzer feeds the reader and everything behind it.

It needs the package ``atheris``, which is no dependency of the tests::

    python -m pip install --target /some/folder atheris
    PYTHONPATH=/some/folder python -m tests.hardening.fuzz 100000

Every input is a good rig bent by choices that the fuzzer makes (see ``inputs``), so that it
gets past the YAML and into the model, the physics and the cards. A failing input is written
beside the corpus and its traceback shown. Without ``atheris`` the same number of inputs is
made by chance alone: ``python -m tests.hardening.fuzz --by-chance 100000``.

What the run of 2026-11-25 gave is told in ``FUZZED.md`` beside this file.
"""

from __future__ import annotations

import argparse
import importlib
import random
import sys
import tempfile
from collections import Counter
from pathlib import Path
from typing import Any

COUNTS: Counter[str] = Counter()


class Choices(random.Random):
    """Takes every choice from the fuzzer's bytes, so that it learns which choices lead on."""

    def __init__(self, provider: Any) -> None:
        super().__init__(0)
        self.provider = provider

    def random(self) -> float:
        """A number from 0 up to 1."""
        return float(self.provider.ConsumeIntInRange(0, 65535)) / 65536

    def getrandbits(self, count: int, /) -> int:
        """Some random bits."""
        if not self.provider.remaining_bytes():
            return super().getrandbits(count)  # the bytes have run out: end in a known way
        return int(self.provider.ConsumeIntInRange(0, (1 << count) - 1))


def one(provider: Any) -> None:
    """Make one input and swallow it."""
    from tests.hardening.inputs import bent
    from tests.hardening.swallow import swallow

    text = provider.ConsumeBytes(400) if provider.ConsumeIntInRange(0, 9) == 0 else bent(Choices(provider))
    COUNTS["inputs"] += 1
    COUNTS[swallow(text)] += 1


def tell() -> None:
    """Say how many inputs there were and what they were."""
    print(f"{COUNTS['inputs']} inputs: {COUNTS['rig']} rigs, {COUNTS['faults']} with faults", flush=True)


def guided(count: int, corpus: Path) -> None:
    """Fuzz with ``atheris``; it ends the process itself."""
    import atexit

    atheris: Any = importlib.import_module("atheris")  # only for the long run
    with atheris.instrument_imports(include=["cardgen.source", "cardgen.model", "cardgen.units"]):
        import tests.hardening.swallow  # noqa: F401  # loaded here so that its branches are seen

    atexit.register(tell)

    def target(data: bytes) -> None:
        one(atheris.FuzzedDataProvider(data))
        if COUNTS["inputs"] % 5000 == 0:
            tell()

    corpus.mkdir(parents=True, exist_ok=True)
    if not any(corpus.iterdir()):
        for number in range(200):  # long enough to make many choices from the start
            (corpus / f"start{number}").write_bytes(random.Random(number).randbytes(300))
    options = [
        f"-atheris_runs={count}",
        "-max_len=600",
        "-len_control=0",
        "-rss_limit_mb=4096",
        "-timeout=60",
    ]
    atheris.Setup([sys.argv[0], *options, f"-artifact_prefix={corpus}/", str(corpus)], target)
    atheris.Fuzz()


def by_chance(count: int, start: int) -> None:
    """Bend files by chance alone."""
    from tests.hardening.inputs import bent
    from tests.hardening.swallow import swallow

    for number in range(start, start + count):
        text = bent(random.Random(number))
        COUNTS["inputs"] += 1
        try:
            COUNTS[swallow(text)] += 1
        except Exception:
            print(f"bent(random.Random({number})) = {text!r}")
            raise
        if COUNTS["inputs"] % 5000 == 0:
            tell()
    tell()


def main() -> None:
    """Read the command line and run."""
    parser = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter
    )
    parser.add_argument("count", type=int, nargs="?", default=100_000, help="inputs to try")
    parser.add_argument("--by-chance", action="store_true", help="without the fuzzer")
    parser.add_argument("--start", type=int, default=0, help="first number, by chance only")
    parser.add_argument("--corpus", type=Path, help="folder for inputs worth keeping (default: a new one)")
    args = parser.parse_args()
    if args.by_chance:
        by_chance(args.count, args.start)
    else:
        guided(args.count, args.corpus or Path(tempfile.mkdtemp(prefix="cardgen-fuzz-")))


if __name__ == "__main__":
    main()
