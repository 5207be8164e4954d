"""How long a card takes, against browsers that print the same page: ``python -m tests.render.speed``.

Everything is measured in one run, rounds interleaved, medians printed. No test asserts times.
"""

from __future__ import annotations

import argparse
import os
import statistics
import sys
import time
from collections.abc import Callable
from concurrent.futures import ProcessPoolExecutor
from multiprocessing import get_context

from cardgen.render.engine import batch, press
from cardgen.render.fallback import browser_page, find_browser, print_page
from cardgen.render.fit import Fitter
from cardgen.render.pdf import render_card
from cardgen.render.sizes import SIZES
from tests.render import samples

SIZE = SIZES["half-letter"]


def one_card(_: int = 0) -> int:
    """Print the two-faced sample card; return its size [bytes]."""
    return len(render_card(samples.glovebox(), SIZE).pdf)


def _start() -> None:
    press()
    one_card()


def per_process(cards: int, processes: int) -> float:
    """Cards per second on some warm processes [1/s]."""
    context = get_context("spawn")
    with ProcessPoolExecutor(processes, context, initializer=_start) as pool:
        list(pool.map(one_card, range(processes * 2)))  # every process is warm
        begin = time.perf_counter()
        list(pool.map(one_card, range(cards), chunksize=max(1, cards // (4 * processes))))
        return cards / (time.perf_counter() - begin)


def browser_page_of_the_card() -> str:
    """The page that the browser prints: the same card with the same type sizes."""
    card = samples.glovebox()
    return browser_page(card, SIZE, Fitter(card, SIZE, False).plan(), None)


def measure(rounds: int, ways: dict[str, Callable[[], object]]) -> dict[str, float]:
    """Median seconds of each way, rounds interleaved [s]."""
    times: dict[str, list[float]] = {name: [] for name in ways}
    with batch() as count:
        for _ in range(rounds):
            for name, way in ways.items():
                begin = time.perf_counter()
                way()
                times[name].append(time.perf_counter() - begin)
                count.tick()
    return {name: statistics.median(seconds) for name, seconds in times.items()}


def main() -> int:
    """Measure and print a table."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--rounds", type=int, default=11)
    parser.add_argument("--cards", type=int, default=40)
    options = parser.parse_args()
    _start()
    ways: dict[str, Callable[[], object]] = {"cardgen, one warm process": one_card}
    browser = find_browser()
    page = browser_page_of_the_card()
    close: Callable[[], None] = lambda: None  # noqa: E731  # replaced when a browser is found
    if browser:
        from playwright.sync_api import sync_playwright

        player = sync_playwright().start()
        running = player.chromium.launch(executable_path=str(browser))
        tab = running.new_page()

        def printed() -> bytes:
            tab.set_content(page)
            return tab.pdf(prefer_css_page_size=True)

        def close() -> None:
            running.close()
            player.stop()

        ways["browser started per card"] = lambda: print_page(browser, page)
        ways["one browser kept running"] = printed
    found = measure(options.rounds, ways)
    close()
    base = next(iter(found.values()))
    print(f"two-faced {SIZE.id} card, median of {options.rounds} rounds, {os.cpu_count()} cores")
    for name, seconds in found.items():
        print(f"  {name:28s} {seconds * 1000:7.0f} ms   x{seconds / base:.2f}")
    for processes in (1, 2):
        rate = per_process(options.cards, processes)
        print(f"  {processes} process(es)              {rate:7.1f} cards per second")
    return 0


if __name__ == "__main__":
    sys.exit(main())
