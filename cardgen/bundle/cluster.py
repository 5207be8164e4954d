"""Work on other machines: the same units of work through Dask's distributed scheduler.

Each worker needs the same cardgen, libraries and fonts (a rig made with others is refused),
and one thread per worker, as the layout libraries are not made for more. Rig files and
parts travel with the order; a workspace's own templates must lie on a shared folder.
"""

from __future__ import annotations

import concurrent.futures as cf
from typing import Any

from cardgen.bundle.errors import MissingError
from cardgen.bundle.pool import Crew

_CONNECT = 10  # s
_DEATHS = 5
"""How often the scheduler itself gives an order to another worker when one dies."""


def cluster(address: str) -> Crew:
    """Workers behind a scheduler.

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

    return Crew(start, 2 * max(1, threads) + 2, client.close, elsewhere=True)
