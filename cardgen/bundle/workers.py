"""Orders over workers: here, in processes, or through any executor; nothing is lost with a worker."""

from __future__ import annotations

import concurrent.futures as cf
import contextlib
import itertools
import multiprocessing
import os
import signal
import tempfile
import threading
from collections.abc import Callable, Generator, Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

from cardgen.bundle.errors import MissingError
from cardgen.bundle.make import make, maker_of
from cardgen.bundle.work import Order, RigBuild

if TYPE_CHECKING:
    from multiprocessing.process import BaseProcess

TRIES = 3
"""How often an order is given out before its rig is held to be what ends its workers."""


@dataclass(frozen=True, slots=True)
class WorkerPool:
    """Who does the work.

    Args:
        start: makes a fresh executor; None to work in this process.
        width: orders under way at one time [-].
        end: called when the work is over.
        elsewhere: whether workers may be on other machines, whose tools must be the same as here.
    """

    start: Callable[[], cf.Executor] | None = None
    width: int = 1
    end: Callable[[], object] = lambda: None
    elsewhere: bool = False


def processes(jobs: int, maker: str, scratch: Path) -> WorkerPool:
    """Worker processes on this machine.

    Args:
        jobs: how many.
        maker: imported once in each.
        scratch: folder for temporary files of the workers; whoever made it removes it.
    """

    def start() -> cf.Executor:
        context = multiprocessing.get_context("spawn")
        return cf.ProcessPoolExecutor(jobs, context, _begin, (maker, str(scratch)))

    return WorkerPool(start, jobs + 2)


def _begin(maker: str, scratch: str) -> None:
    """Prepare a worker process: leave Ctrl-C to the parent, end with it, pay imports once."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    parent = multiprocessing.parent_process()
    if parent is not None:
        threading.Thread(target=_end_with, args=(parent,), daemon=True).start()
    tempfile.tempdir = scratch
    with contextlib.suppress(Exception):  # make() tells what is missing, order by order
        maker_of(maker)


def _end_with(parent: BaseProcess) -> None:
    parent.join()
    os._exit(1)


def work_off(orders: Iterable[Order], pool: WorkerPool) -> Iterator[RigBuild]:
    """Work orders off and yield what comes of them, in the order in which it comes.

    When a worker dies, the orders under way are given out again, one at a time, so that an
    order that ends its worker is found and does not take the others with it.
    """
    if pool.start is None:
        yield from map(make, orders)
        return
    waiting = iter(orders)
    while (first := next(waiting, None)) is not None:
        left = yield from _shift(itertools.chain([first], waiting), pool, pool.start)
        for order in left:
            yield _alone(order, pool.start)


def _shift(
    waiting: Iterator[Order], pool: WorkerPool, start: Callable[[], cf.Executor]
) -> Generator[RigBuild, None, list[Order]]:
    """Work with one executor until all is done or it breaks; returns the orders left over."""
    left: list[Order] = []
    under: dict[cf.Future[RigBuild], Order] = {}
    executor = start()
    broken = False
    try:
        while not broken:
            for order in itertools.islice(waiting, pool.width - len(under)):
                try:
                    future = executor.submit(make, order)
                except cf.BrokenExecutor:
                    left.append(order)
                    broken = True
                    break
                under[future] = order
            if not under:
                break
            for future in cf.wait(under, return_when=cf.FIRST_COMPLETED).done:
                order = under.pop(future)
                problem = future.exception() if not future.cancelled() else cf.CancelledError()
                if problem is None:
                    yield future.result()
                else:
                    left.append(order)
                    broken = broken or isinstance(problem, cf.BrokenExecutor)
        return [*left, *under.values()]
    finally:
        ours = multiprocessing.active_children() if under and not broken else []
        for child in ours:  # told to end: a worker that went on would fill a scratch folder that goes
            child.kill()
            child.join()
        if not ours:  # else the executor itself tells its orders that they are lost
            for future in under:
                future.cancel()
        executor.shutdown(wait=not under and not broken)


def _alone(order: Order, start: Callable[[], cf.Executor]) -> RigBuild:
    """Give out one order with nothing beside it, a few times."""
    problem: BaseException | None = None
    for _ in range(TRIES - 1):
        executor = start()
        try:
            return executor.submit(make, order).result()
        except Exception as found:  # a dead worker has other names in other executors
            problem = found
        finally:
            executor.shutdown(wait=False)
    words = f"its worker ended {TRIES} times without a result ({type(problem).__name__}: {problem})"
    return RigBuild(
        file=order.file, status="failed", bug=f"{words}; perhaps memory ran out: try fewer --jobs"
    )


_CONNECT = 10  # s
_DEATHS = 5
"""How often the scheduler itself gives an order to another worker when one dies."""


def cluster(address: str) -> WorkerPool:
    """Workers on other machines, behind the scheduler of Dask's distributed.

    Each worker needs the same cardgen, libraries and fonts (a rig made with others is refused),
    and one thread per worker, as the layout libraries are not made for more. Rig files and
    parts travel with the order; a workspace's own templates must lie on a shared folder.

    Args:
        address: of the scheduler, for example ``tcp://192.0.2.7:8786``.

    Raises:
        MissingError: Dask's distributed is not installed or the scheduler does not answer.
    """
    try:
        from distributed import Client
    except ImportError as problem:
        raise MissingError(
            "--scheduler needs Dask's distributed; install it with: pip install 'cardgen[cluster]'"
        ) from problem
    try:
        make_client: Any = Client  # the package has few types
        client = make_client(address, timeout=_CONNECT, set_as_default=False)
        threads = sum(client.nthreads().values())
    except (OSError, ValueError, TimeoutError) as problem:
        raise MissingError(f"the scheduler at '{address}' does not answer: {problem}") from problem

    def start() -> cf.Executor:
        executor: cf.Executor = client.get_executor(pure=False, retries=_DEATHS)
        return executor

    return WorkerPool(start, 2 * max(1, threads) + 2, client.close, elsewhere=True)
