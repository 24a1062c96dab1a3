"""The rules of single arguments and the words they are refused with."""

import numpy as np
import pytest

from core.arguments import above_zero_to_one, finite, not_negative, positive, within
from core.errors import InputError


@pytest.mark.parametrize(
    ("check", "good", "bad"),
    [
        (finite, [0, -5, 1e300], [np.nan, np.inf, -np.inf, None, "many"]),
        (not_negative, [0, 0.1], [-0.1, np.nan]),
        (positive, [0.1, 7], [0, -1, np.inf]),
        (above_zero_to_one, [0.01, 1], [0, 1.01]),
        (lambda *told: within(*told, low=2, high=3), [2, 2.5, 3], [1.9, 3.1, np.nan]),
    ],
)
def test_each_rule_lets_the_good_pass_and_refuses_the_bad(check, good, bad):
    for value in good:
        check("Thing", "quantity", value)
        check("Thing", "quantity", np.array([value, value], dtype=float))
    for value in bad:
        with pytest.raises(InputError, match="Thing: quantity = "):
            check("Thing", "quantity", value)


def test_the_first_bad_number_of_an_array_is_named():
    with pytest.raises(InputError) as caught:
        not_negative("Fan 'Intake'", "flow", np.array([[1.0, -3.0], [-4.0, 2.0]]), "m³/h")
    expected = "Fan 'Intake': flow = −3 m³/h must not be negative; enter 0 or more."
    assert str(caught.value) == expected
