"""Constants of nature that more than one engine uses.

What only one engine needs, or what the grower may edit, does not belong here.
"""

GRAVITY = 9.80665
"""Standard acceleration of free fall (CGPM 1901). [m/s²]"""

KELVIN = 273.15
"""0 °C on the absolute scale. [K]"""

STANDARD_PRESSURE = 101_325.0
"""Pressure of the standard atmosphere at sea level. [Pa]"""
