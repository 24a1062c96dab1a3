"""Which engines' kernels are compiled beside the window."""

from __future__ import annotations

import pytest

from core import warm


@pytest.mark.parametrize(
    ("asked", "compiled"),
    [
        ((), ["light", "air", "climate"]),
        (("air",), ["air"]),
        (("climate", "light"), ["climate", "light"]),
    ],
)
def test_engines_are_compiled_in_the_order_asked_and_each_is_told_when_done(
    asked: tuple[str, ...],
    compiled: list[str],
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    done: list[str] = []

    def compile_and_check(name: str) -> None:
        assert capsys.readouterr().out.split() == done[-1:]
        done.append(name)

    for name in warm.ENGINES:
        monkeypatch.setitem(warm.ENGINES, name, lambda name=name: compile_and_check(name))
    monkeypatch.setattr(warm.os, "nice", lambda _: 0, raising=False)
    warm.main(asked)
    assert done == compiled
