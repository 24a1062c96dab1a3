"""Which engines' kernels are compiled beside the window."""

from __future__ import annotations

import pytest

from core import warm


@pytest.mark.parametrize(
    ("asked", "compiled"),
    [((), ["light"]), (("air",), ["air"]), (("light", "air"), ["light", "air"])],
)
def test_engines_are_compiled_in_the_order_asked(
    asked: tuple[str, ...], compiled: list[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    done: list[str] = []
    for name in warm.ENGINES:
        monkeypatch.setitem(warm.ENGINES, name, lambda name=name: done.append(name))
    monkeypatch.setattr(warm.os, "nice", lambda _: 0, raising=False)
    warm.main(asked)
    assert done == compiled
