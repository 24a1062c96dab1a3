"""Materials: the list of parts, what an enclosure is cut from, and how it is cut.

The formulas and searches here know numbers only; `core.materials.from_design` turns a design into
their arguments. What running costs is in `core.cost`.
"""

from core.materials.cutting import CutPlan, Pattern, Stock, cut_list, cut_list_mixed
from core.materials.sag import sag
from core.materials.sheets import strip_count

__all__ = [
    "CutPlan",
    "Pattern",
    "Stock",
    "cut_list",
    "cut_list_mixed",
    "sag",
    "strip_count",
]
