"""Worker processes: the same output, one bad rig stops nobody, nothing is lost with a worker."""

from __future__ import annotations

import concurrent.futures as cf
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from cardgen.bundle import build as build_module
from cardgen.bundle.work import Options, Order, RigBuild
from cardgen.bundle.workers import WorkerPool, processes, work_off
from tests.bundle.fake import NAME
from tests.bundle.shed import DAY, Shed

Choose = Callable[[int, Callable[[], Path]], WorkerPool]


def two(orders: int, scratch: Callable[[], Path]) -> WorkerPool:
    return processes(2, NAME, scratch())


def test_processes_make_the_same_files(tmp_path: Path) -> None:
    trees = []
    for name, pool in (("one", None), ("two", two)):
        shed = Shed(tmp_path / name)
        for number in range(5):
            shed.rig(f"rig{number}", pressure=f"{50 + number} psi")
        result = shed.build(**({"pool": pool} if pool else {}))
        assert [rig.slug for rig in result.rigs] == [f"rig{n}" for n in range(5)], "in the order asked"
        trees.append(dict(shed.tree()))
    assert trees[0] == trees[1]


def test_bad_rigs_stop_nobody(shed: Shed) -> None:
    shed.rig("a", pressure="65")
    shed.rig("b", more="note: make a bug\n")
    shed.rig("c", more="note: too heavy\n")
    shed.rig("d")
    a, b, c, d = shed.build(pool=two).rigs
    assert [one.status for one in (a, b, c, d)] == ["failed", "failed", "built", "built"]
    assert "ZeroDivisionError: made for a test" in b.bug
    assert c.over == ("tongue weight 900 lb of 800 lb",)


def test_a_worker_that_dies_once_loses_nothing(
    shed: Shed, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("DIED", str(tmp_path / "marker"))
    for number in range(6):
        more = "note: dies once\n" if number == 2 else ""
        shed.rig(f"rig{number}", more=more)
    result = shed.build(pool=two)
    assert (tmp_path / "marker").exists()
    assert [rig.status for rig in result.rigs] == ["built"] * 6


def test_a_rig_that_always_ends_its_worker_is_found(shed: Shed) -> None:
    for number in range(6):
        shed.rig(f"rig{number}", more="note: dies\n" if number == 2 else "")
    result = shed.build(pool=two)
    assert [rig.status for rig in result.rigs].count("built") == 5
    assert result.rigs[2].status == "failed"
    assert "its worker ended 3 times" in result.rigs[2].bug


class Flaky(cf.Executor):
    """An executor that loses every third order, as one on other machines may."""

    given = 0

    def submit(self, call: Any, /, *more: Any, **named: Any) -> cf.Future[Any]:
        """Work at once, or lose the order."""
        Flaky.given += 1
        future: cf.Future[Any] = cf.Future()
        if Flaky.given % 3 == 0:
            future.set_exception(ConnectionError("the worker went away"))
        else:
            future.set_result(call(*more, **named))
        return future


def orders(count: int) -> list[Order]:
    options = Options(day=DAY)
    return [Order(file=f"{n}.yaml", files={}, options=options, maker=NAME) for n in range(count)]


def test_any_executor_will_do() -> None:
    made = list(work_off(orders(20), WorkerPool(Flaky, 4)))
    assert sorted(one.file for one in made) == sorted(f"{n}.yaml" for n in range(20))
    assert all(one.faults for one in made), "there are no such files"


class Broken(cf.Executor):
    """An executor that cannot be given anything."""

    def submit(self, call: Any, /, *more: Any, **named: Any) -> cf.Future[Any]:
        """Refuse."""
        raise cf.BrokenExecutor("no workers")


def test_an_executor_without_workers_ends() -> None:
    made = list(work_off(orders(3), WorkerPool(Broken, 4)))
    assert [bool(one.bug) for one in made] == [True] * 3


def test_orders_are_read_only_when_there_is_room() -> None:
    taken: list[Order] = []

    def source() -> Any:
        for order in orders(30):
            taken.append(order)
            yield order

    arriving = work_off(source(), WorkerPool(Flaky, 4))
    first: RigBuild = next(arriving)
    assert first.file
    assert len(taken) <= 5, "a fleet must not pile up in memory"
    arriving.close()  # type: ignore[attr-defined]  # it is a generator


def test_a_worker_with_other_tools_is_refused(shed: Shed, monkeypatch: pytest.MonkeyPatch) -> None:
    shed.rig("wren")
    monkeypatch.setattr(build_module, "tool_key", lambda *_: "other")
    rig = shed.one(pool=lambda *_: WorkerPool(elsewhere=True))
    assert rig.status == "failed"
    assert "another cardgen" in rig.missing[0]
    assert shed.tree() == {}


def test_a_file_edited_during_a_build_is_noticed_by_the_next(
    shed: Shed, monkeypatch: pytest.MonkeyPatch
) -> None:
    shed.rig("wren")
    with monkeypatch.context() as patch:
        patch.setattr(build_module, "tool_key", lambda *_: "before the edit")
        assert shed.one().status == "built"
        assert shed.one().status == "unchanged", "described again, as the worker's tools differ"
    assert shed.one().status == "unchanged"
    assert shed.one().number == 1
