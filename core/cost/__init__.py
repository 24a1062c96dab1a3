"""Cost: what a day, a month and a year of running take.

Prices are the grower's own; what parts cost is in `core.materials`.
"""

from core.cost.money import money

__all__ = ["money"]
