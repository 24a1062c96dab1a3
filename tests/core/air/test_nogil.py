"""Kernels leave Python's lock to others: the window moves on while a flow or a map is computed."""

from __future__ import annotations

import sys
import threading
from collections.abc import Iterator
from importlib import import_module

import pytest

from core.air.flow.grid import make_grid
from core.air.flow.scene import AirScene, Fan
from core.air.flow.solve import warm_up
from core.air.flow.stepping import Stepper

KERNELS = (
    "core.air.flow.momentum_kernels",
    "core.air.flow.pressure_kernels",
    "core.air.flow.turbulence_kernels",
    "core.climate.day_kernel",
    "core.light.exchange_compiled",
    "core.light.rows_compiled",
)


@pytest.fixture
def never_switching() -> Iterator[None]:
    """Let no thread run while another holds the lock, however long: only who lets go is passed."""
    usual = sys.getswitchinterval()
    sys.setswitchinterval(1000.0)
    yield
    sys.setswitchinterval(usual)


def other_thread_ran(work: object) -> bool:
    """Tell whether this thread ran while another was within ``work``."""
    begun, ended = threading.Event(), threading.Event()

    def run() -> None:
        begun.set()
        work()  # type: ignore[operator]
        ended.set()

    thread = threading.Thread(target=run)
    thread.start()
    begun.wait()
    ran = not ended.is_set()
    thread.join()
    return ran


def test_a_step_of_the_flow_lets_other_threads_run(never_switching):
    warm_up()
    scene = AirScene((2, 2, 2), (Fan((0.5, 1.0, 1.0), (1, 0, 0), 0.2, 0.05),))
    stepper = Stepper(scene, make_grid(scene, 0.04))
    # A busy machine may wake this thread late; one that cannot run at all never runs.
    assert any(other_thread_ran(stepper.step) for _ in range(5))


def test_work_that_keeps_the_lock_is_noticed(never_switching):
    assert not any(other_thread_ran(lambda: sum(range(200_000))) for _ in range(5))


@pytest.mark.parametrize("name", KERNELS)
def test_every_kernel_is_compiled_to_let_go_of_the_lock(name):
    module = import_module(name)
    kernels = [one for one in vars(module).values() if hasattr(one, "targetoptions")]
    assert kernels
    assert all(kernel.targetoptions.get("nogil") for kernel in kernels)
