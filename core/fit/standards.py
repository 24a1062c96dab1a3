"""Published widths, heights and clearances that fit asks for, each with its source.

What the grower asks for is in the design's targets; how distances are found, in the modules beside.
"""

from __future__ import annotations

from core.units.table import INCH

SEATED_LOW, SEATED_HIGH = 15 * INCH, 48 * INCH
"""Heights reached from a wheelchair: ADA 2010, section 308. [m]"""

SEATED_ROUTE = 36 * INCH
"""Clear width of a route for a wheelchair: ADA 2010, 403.5.1. [m]"""

SEATED_PINCH, SEATED_PINCH_LENGTH = 32 * INCH, 24 * INCH
"""Width that is enough over so short a length: ADA 2010, 403.5.1. [m]"""

SEATED_DOOR = 32 * INCH
"""Clear width of a doorway for a wheelchair: ADA 2010, 404.2.3. [m]"""

SEATED_SILL = 0.5 * INCH
"""Sill that a wheelchair rolls over: ADA 2010, 404.2.5 (from memory). [m]"""

CLEAR_OF_HEATER = 0.914
"""Free space round a heater, 3 ft from what burns: fire code 605.10 (secondary copy). [m]"""

CLEAR_OF_HOT_LAMP = 0.15
"""Free space round a lamp whose surface gets hot (judgement; its maker decides). [m]"""

HEAD_ROOM = 1.90
"""Height in which most stand upright (common practice, no source). [m]"""

SHOULDERS = 1.80
"""Shelves above this are tended from a step (common practice, no source). [m]"""
