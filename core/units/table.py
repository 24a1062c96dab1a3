"""Every kind of quantity: the units that are read and how metric and US customary show it.

Sizes are exact definitions (NIST Special Publication 811, 2008, Appendix B, unless a line says
otherwise), so that nothing has to load before the first figure; units that are only read are in
`rare`.
"""

from __future__ import annotations

from math import pi

from core.units.kinds import Display, Kind, Unit, per

THIN = "\N{THIN SPACE}"

INCH = 0.0254
FOOT = 0.3048
POUND = 0.45359237
OUNCE = POUND / 16
GALLON = 3.785411784e-3
IMPERIAL_GALLON = 4.54609e-3
POUND_FORCE = 4.4482216152605
BTU = 1055.05585262
HOUR = 3600.0
DAY = 86400.0
ZERO_CELSIUS = 273.15

_DAYS = "d|day"
_HOURS = "h|hr|hour"
_LITRES = "l|litre|liter|litres|liters"
_GALLONS = "gal|gallon|gallons|us gal"
_FEET2, _FEET3 = "ft2|sq ft", "ft3|cu ft"


def _nudges(normal: float) -> tuple[float, float, float]:
    return normal / 10, normal, normal * 10


def _alike(unit: Unit, normal: float, most: int = 12) -> dict[str, Display]:
    """Return the displays of a kind that both systems show in one unit."""
    display = Display(unit, _nudges(normal), most=most)
    return {"metric": display, "us": display}


# Length, area, volume ----------------------------------------------------------------------------

MM = Unit("mm", 1e-3, ("millimetre*", "millimeter*"), many="millimetres")
CM = Unit("cm", 1e-2, ("centimetre*", "centimeter*"), many="centimetres")
M = Unit("m", 1.0, ("metre*", "meter*"))
FT = Unit("ft", FOOT, ("'", "ft.", "foot", "feet"))
IN = Unit("in", INCH, ('"', "in.", "inch", "inches"), many="inches")
YD = Unit("yd", 3 * FOOT, ("yard*",))

_LENGTH = Kind(
    "a length",
    0.80,
    (MM, CM, M, IN, FT, YD),
    {
        "metric": Display(M, (0.001, 0.01, 0.10), ((0.0, MM), (0.1, M)), least=2),
        "us": Display(FT, (INCH / 16, INCH / 2, 6 * INCH)),
    },
    chains=((M, CM, MM), (FT, IN)),
    tails=(FT,),
)

_MM2 = Unit("mm²", 1e-6, ("sq mm",))
_CM2 = Unit("cm²", 1e-4, ("sq cm",))
_M2 = Unit("m²", 1.0, ("sq m", "sqm"))
_IN2 = Unit("in²", INCH**2, ("sq in",))
_FT2 = Unit("ft²", FOOT**2, ("sq ft", "sqft"))
_AREA = Kind(
    "an area",
    1.2,
    (_MM2, _CM2, _M2, _IN2, _FT2),
    {
        "metric": Display(_M2, _nudges(0.01), ((0.0, _CM2), (0.01, _M2))),
        "us": Display(_FT2, _nudges(0.1 * FOOT**2), ((0.0, _IN2), (0.1 * FOOT**2, _FT2))),
    },
)

_ML = Unit("mL", 1e-6, ("millilitre*", "milliliter*", "cc", "cm3"))
_L = Unit("L", 1e-3, ("litre*", "liter*", "dm3"))
_M3 = Unit("m³", 1.0, ("cu m",))
_FLOZ = Unit("fl oz", GALLON / 128, ("us fl oz", "fluid ounce*"))
_PT = Unit("pt", GALLON / 8, ("pint*",))
_QT = Unit("qt", GALLON / 4, ("quart*",))
_GAL = Unit(
    "gal",
    GALLON,
    ("gallon*", "us gal", "us gallon*", "gal us", "gal (us)", "gallons (us)", "gal. (us)"),
)
_IMP = Unit(
    "gal (imp)",
    IMPERIAL_GALLON,
    ("imp gal", "gal imp", "imperial gallon*", "gallons (imp)", "gal (uk)", "uk gal"),
)
_FT3 = Unit("ft³", FOOT**3, ("cu ft",))
_IN3 = Unit("in³", INCH**3, ("cu in",))
_VOLUME = Kind(
    "a volume",
    0.020,
    (_ML, _L, _M3, _FLOZ, _PT, _QT, _GAL, _IMP, _IN3, _FT3),
    {
        "metric": Display(_L, _nudges(1e-3), ((0.0, _ML), (1e-4, _L), (1.0, _M3))),
        "us": Display(_GAL, _nudges(GALLON / 4), ((0.0, _FLOZ), (GALLON / 10, _GAL), (1.0, _FT3))),
    },
)

# Mass, force, pressure ---------------------------------------------------------------------------

_MG = Unit("mg", 1e-6, ("milligram*",))
_G = Unit("g", 1e-3, ("gram*", "gramme*"))
_KG = Unit("kg", 1.0, ("kilo*", "kilogram*", "kilogramme*"))
_OZ = Unit("oz", OUNCE, ("oz.", "ounce*"), many="ounces")
_LB = Unit("lb", POUND, ("lb.", "lbs", "pound*", "#"))
_MASS = Kind(
    "a mass",
    12.0,
    (_MG, _G, _KG, _OZ, _LB),
    {
        "metric": Display(_KG, _nudges(0.1), ((0.0, _G), (0.1, _KG))),
        "us": Display(_LB, _nudges(POUND / 4), ((0.0, _OZ), (POUND, _LB))),
    },
    chains=((_LB, _OZ),),
)

_KGM3 = Unit("kg/m³", 1.0, per("kg", "m3|cu m"))
_GL = Unit("g/L", 1.0, per("g", _LITRES))
_KGL = Unit("kg/L", 1e3, per("kg", _LITRES))
_GCM3 = Unit("g/cm³", 1e3, (*per("g", "cm3"), "g/ml"))
_LBFT3 = Unit("lb/ft³", POUND / FOOT**3, (*per("lb|lbs", _FEET3), "pcf"))
_LBGAL = Unit("lb/gal", POUND / GALLON, per("lb|lbs", _GALLONS))
_DENSITY = Kind(
    "a density",
    1000.0,
    (_KGM3, _GL, _KGL, _GCM3, _LBFT3, _LBGAL),
    {
        "metric": Display(_KGM3, _nudges(10.0)),
        "us": Display(_LBFT3, _nudges(POUND / FOOT**3)),
    },
)

# Minerals in water, counted as calcium carbonate; a litre is taken as a kilogram.
_HARD_MGL = Unit("mg/L", 1e-3, per("mg", _LITRES))
_HARD_PPM = Unit("ppm", 1e-3)
_HARD_GPG = Unit("gr/gal", POUND / 7000 / GALLON, (*per("gr|grain|grains", _GALLONS), "gpg"))
# 10 mg of CaO in a litre, by the molar masses of CaCO3 and CaO.
_HARD_DH = Unit("°dH", 1e-2 * 100.0869 / 56.0774, ("dh", "degrees dh"))
_HARDNESS = Kind(
    "a hardness of water",
    0.15,
    (_HARD_MGL, _GL, _HARD_PPM, _HARD_GPG, _HARD_DH),
    _alike(_HARD_MGL, 0.01, most=0),
)

_NEWTON = Unit("N", 1.0, ("newton*",))
_KN = Unit("kN", 1e3)
_LBF = Unit("lbf", POUND_FORCE, ("lb force", "pound force", "pounds force"))
_KGF = Unit("kgf", 9.80665, ("kp",))
_FORCE = Kind(
    "a force",
    50.0,
    (_NEWTON, _KN, _LBF, _KGF),
    {"metric": Display(_NEWTON, _nudges(1.0)), "us": Display(_LBF, _nudges(POUND_FORCE))},
)

_PA = Unit("Pa", 1.0, ("pascal*", "N/m2"))
_HPA = Unit("hPa", 100.0)
_KPA = Unit("kPa", 1e3, ("kN/m2",))
_MBAR = Unit("mbar", 100.0)
_BAR = Unit("bar", 1e5)
_KG_PER_M2 = Unit("kg/m²", 9.80665, per("kg|kgf", "m2|sq m"))
_PSF = Unit("psf", POUND_FORCE / FOOT**2, per("lb|lbs|lbf", _FEET2))
_PSI = Unit("psi", POUND_FORCE / INCH**2, per("lb|lbs|lbf", "in2|sq in"))
_INHG = Unit("inHg", 3386.389, ("in hg", '"hg'))
_INH2O = Unit("inH₂O", 249.0889, ("inh2o", "in h2o", "in wg", "in wc", "in. w.g.", '"wg', '"wc'))
_PRESSURES = (_PA, _HPA, _KPA, _MBAR, _BAR, _KG_PER_M2, _PSF, _PSI, _INHG, _INH2O)
_PRESSURE = Kind(
    "a pressure",
    2000.0,
    _PRESSURES,
    {
        "metric": Display(_KPA, _nudges(100.0), ((0.0, _PA), (100.0, _KPA))),
        "us": Display(_PSF, _nudges(POUND_FORCE / FOOT**2)),
    },
)
_VAPOUR_PRESSURE = Kind("a vapour pressure", 900.0, _PRESSURES, _alike(_KPA, 50.0))
_FAN_PRESSURE = Kind(
    "a fan pressure",
    25.0,
    _PRESSURES,
    {"metric": Display(_PA, _nudges(1.0)), "us": Display(_INH2O, _nudges(249.0889 / 100))},
)

# Heat and climate --------------------------------------------------------------------------------

_C = Unit("°C", 1.0, ("c", "degc", "deg c", "celsius", "degrees c"), gap=THIN)
_F = Unit("°F", 5 / 9, ("f", "degf", "deg f", "fahrenheit", "degrees f"), offset=-32.0, gap=THIN)
_K = Unit("K", 1.0, ("kelvin*",), offset=-ZERO_CELSIUS)
_TEMPERATURE = Kind(
    "a temperature",
    20.0,
    (_C, _F, _K),
    {
        "metric": Display(_C, _nudges(0.5), most=1),
        "us": Display(_F, _nudges(5 / 9), most=1),
    },
    lowest=-ZERO_CELSIUS,
)
_DK = Unit("K", 1.0, ("kelvin*", *_C.spellings, "°c"))
_DF = Unit("°F", 5 / 9, (*_F.spellings, "r"), gap=THIN)
_DIFFERENCE = Kind(
    "a temperature difference",
    5.0,
    (_DK, _DF),
    {
        "metric": Display(_DK, _nudges(0.5), most=1),
        "us": Display(_DF, _nudges(5 / 9), most=1),
    },
)

_WM2K = Unit("W/(m² K)", 1.0, per("w", "m2", "k|°c|c"))
_BTU_FT2_F = Unit(
    "BTU/(h ft² °F)", BTU / HOUR / FOOT**2 / (5 / 9), per("btu", "h|hr", "ft2", "°f|f")
)
_U_VALUE = Kind(
    "a U-value",
    2.0,
    (_WM2K, _BTU_FT2_F),
    {
        "metric": Display(_WM2K, _nudges(0.1)),
        "us": Display(_BTU_FT2_F, _nudges(0.01 * _BTU_FT2_F.size)),
    },
)

_W_PER_M2 = Unit("W/m²", 1.0, per("w", "m2"))
_BTU_FT2 = Unit("BTU/(h ft²)", BTU / HOUR / FOOT**2, per("btu", "h|hr", "ft2"))
_IRRADIANCE = Kind(
    "an irradiance",
    400.0,
    (_W_PER_M2, _BTU_FT2),
    {
        "metric": Display(_W_PER_M2, _nudges(10.0)),
        "us": Display(_BTU_FT2, _nudges(_BTU_FT2.size)),
    },
)

_PERCENT = Unit("%", 0.01, ("percent", "per cent", "pct", "% rh"), gap=THIN)
_FRACTION = Kind("a percentage", 0.6, (_PERCENT,), _alike(_PERCENT, 0.01))

_G_PER_KG = Unit("g/kg", 1e-3, per("g", "kg"))
_KG_PER_KG = Unit("kg/kg", 1.0, per("kg", "kg"))
_GR_PER_LB = Unit("gr/lb", 1 / 7000, per("gr|grains", "lb"))
_HUMIDITY_RATIO = Kind(
    "a humidity ratio",
    0.008,
    (_G_PER_KG, _KG_PER_KG, _GR_PER_LB),
    {
        "metric": Display(_G_PER_KG, _nudges(1e-4)),
        "us": Display(_GR_PER_LB, _nudges(1 / 7000)),
    },
)

# Electricity -------------------------------------------------------------------------------------

_MW = Unit("mW", 1e-3)
_W = Unit("W", 1.0, ("watt*",))
_KW = Unit("kW", 1e3, ("kilowatt*",))
_MEGAWATT = Unit("MW", 1e6)
_BTUH = Unit("BTU/h", BTU / HOUR, (*per("btu", _HOURS), "btuh"))
_TON = Unit("ton", 12000 * BTU / HOUR, ("tons", "ton of cooling", "tons of cooling"))
_HP = Unit("hp", 550 * FOOT * POUND_FORCE, ("horsepower",))
_POWER = Kind(
    "a power",
    240.0,
    (_MW, _W, _KW, _MEGAWATT, _BTUH, _TON, _HP),
    {
        system: Display(_W, _nudges(1.0), ((0.0, _W), (1e4, _KW), (1e7, _MEGAWATT)))
        for system in ("metric", "us")
    },
)

_VA = Unit("VA", 1.0, ("volt ampere*",))
_KVA = Unit("kVA", 1e3)
_APPARENT = Kind(
    "an apparent power",
    260.0,
    (_VA, _KVA),
    {system: Display(_VA, _nudges(1.0), ((0.0, _VA), (1e4, _KVA))) for system in ("metric", "us")},
)

_J = Unit("J", 1.0, ("joule*",))
_KJ = Unit("kJ", 1e3)
_MJ = Unit("MJ", 1e6)
_WH = Unit("Wh", HOUR, ("w h", "watt hour*"))
_KWH = Unit("kWh", 1e3 * HOUR, ("kw h", "kilowatt hour*"))
_MWH = Unit("MWh", 1e6 * HOUR)
_BTU = Unit("BTU", BTU, ("btus",))
_ENERGY = Kind(
    "an energy",
    5.5 * 1e3 * HOUR,
    (_J, _KJ, _MJ, _WH, _KWH, _MWH, _BTU),
    {
        system: Display(_KWH, _nudges(100 * HOUR), ((0.0, _WH), (100 * HOUR, _KWH)))
        for system in ("metric", "us")
    },
)

_MA = Unit("mA", 1e-3, ("milliamp*",))
_A = Unit("A", 1.0, ("amp*", "ampere*"))
_CURRENT = Kind("a current", 2.5, (_MA, _A), _alike(_A, 0.1))

_MV = Unit("mV", 1e-3)
_V = Unit("V", 1.0, ("volt*",))
_KV = Unit("kV", 1e3)
_VOLTAGE = Kind("a voltage", 230.0, (_MV, _V, _KV), _alike(_V, 1.0))

_OHM_PER_KM = Unit("Ω/km", 1e-3, ("milliohm/m", "mohm/m", *per("ohm|ohms", "km")))
_OHM_PER_M = Unit("Ω/m", 1.0, per("ohm|ohms", "m"))
_OHM_PER_KFT = Unit("Ω/1000 ft", 1e-3 / FOOT, per("ohm|ohms", "kft"))
_RESISTANCE_PER_LENGTH = Kind(
    "a resistance per length",
    0.0083,
    (_OHM_PER_KM, _OHM_PER_M, _OHM_PER_KFT),
    {
        "metric": Display(_OHM_PER_KM, _nudges(1e-4)),
        "us": Display(_OHM_PER_KFT, _nudges(1e-4 / FOOT)),
    },
)

_KCMIL = Unit("kcmil", 1e3 * pi / 4 * (INCH / 1e3) ** 2, ("mcm",))
_WIRE_AREA = Kind("a wire size", 1.5e-6, (_MM2, _CM2, _IN2, _KCMIL), _alike(_MM2, 0.5e-6))

# Air and water on the move -----------------------------------------------------------------------

_M3H = Unit("m³/h", 1 / HOUR, per("m3|cu m", _HOURS))
_M3MIN = Unit("m³/min", 1 / 60, per("m3", "min"))
_M3S = Unit("m³/s", 1.0, per("m3", "s"))
_LS = Unit("L/s", 1e-3, per(_LITRES, "s"))
_LMIN = Unit("L/min", 1e-3 / 60, (*per(_LITRES, "min"), "lpm"))
_LH = Unit("L/h", 1e-3 / HOUR, per(_LITRES, _HOURS))
_CFM = Unit("CFM", FOOT**3 / 60, per(_FEET3, "min|minute"))
_GPM = Unit("gal/min", GALLON / 60, (*per(_GALLONS, "min"), "gpm"))
_GPH = Unit("gal/h", GALLON / HOUR, (*per(_GALLONS, _HOURS), "gph"))
_FLOW = Kind(
    "a flow",
    180 / HOUR,
    (_M3H, _M3MIN, _M3S, _LS, _LMIN, _LH, _CFM, _GPM, _GPH),
    {
        "metric": Display(_M3H, _nudges(5 / HOUR)),
        "us": Display(_CFM, _nudges(5 * FOOT**3 / 60)),
    },
)

_MS = Unit("m/s", 1.0, per("m", "s|sec"))
_CMS = Unit("cm/s", 0.01, per("cm", "s|sec"))
_KMH = Unit("km/h", 1e3 / HOUR, per("km", _HOURS))
_FTMIN = Unit("ft/min", FOOT / 60, (*per("ft|feet", "min|minute"), "fpm"))
_FTS = Unit("ft/s", FOOT, per("ft|feet", "s|sec"))
_MPH = Unit("mph", 5280 * FOOT / HOUR, ("mi/h",))
_SPEED = Kind(
    "a speed",
    0.5,
    (_MS, _CMS, _KMH, _FTMIN, _FTS, _MPH),
    {
        "metric": Display(_MS, _nudges(0.1), least=2, most=2),
        "us": Display(_FTMIN, _nudges(10 * FOOT / 60), most=0),
    },
)

# Water by mass: one litre is taken as one kilogram.
_W_KGS = Unit("kg/s", 1.0, per("kg", "s"))
_W_KGH = Unit("kg/h", 1 / HOUR, per("kg", _HOURS))
_W_KGD = Unit("kg/d", 1 / DAY, per("kg", _DAYS))
_W_GH = Unit("g/h", 1e-3 / HOUR, per("g", _HOURS))
_W_LMIN = Unit("L/min", 1 / 60, (*per(_LITRES, "min"), "lpm"))
_W_LH = Unit("L/h", 1 / HOUR, per(_LITRES, _HOURS))
_W_LD = Unit("L/d", 1 / DAY, per(_LITRES, _DAYS))
_W_MLMIN = Unit("mL/min", 1e-3 / 60, per("ml", "min"))
_W_MLH = Unit("mL/h", 1e-3 / HOUR, per("ml", _HOURS))
_W_MLD = Unit("mL/d", 1e-3 / DAY, per("ml", _DAYS))
_W_GPM = Unit("gal/min", 1e3 * GALLON / 60, (*per(_GALLONS, "min"), "gpm"))
_W_GPH = Unit("gal/h", 1e3 * GALLON / HOUR, (*per(_GALLONS, _HOURS), "gph"))
_W_GPD = Unit("gal/day", 1e3 * GALLON / DAY, (*per(_GALLONS, _DAYS), "gpd"))
_W_PTD = Unit("pt/day", 125 * GALLON / DAY, per("pt|pint|pints", _DAYS))
_W_LBH = Unit("lb/h", POUND / HOUR, per("lb|lbs", _HOURS))
_WATER_RATE = Kind(
    "a water rate",
    0.3 / HOUR,
    (
        *(_W_KGS, _W_KGH, _W_KGD, _W_GH, _W_LBH),
        *(_W_LMIN, _W_LH, _W_LD, _W_MLMIN, _W_MLH, _W_MLD),
        *(_W_GPM, _W_GPH, _W_GPD, _W_PTD),
    ),
    {
        "metric": Display(_W_LH, _nudges(0.1 / HOUR)),
        "us": Display(_W_GPD, _nudges(1e3 * GALLON / DAY)),
    },
)

_MM_PER_DAY = Unit("mm/day", 1 / DAY, (*per("mm", _DAYS), *per(_LITRES, "m2", _DAYS)))
_IN_PER_DAY = Unit("in/day", 1e3 * INCH / DAY, per("in|inches", _DAYS))
_KG_PER_M2_S = Unit("kg/(m² s)", 1.0, per("kg", "m2", "s"))
_KG_PER_M2_H = Unit("kg/(m² h)", 1 / HOUR, per("kg", "m2", _HOURS))
_EVAPORATION = Kind(
    "an evaporation rate",
    1.5 / DAY,
    (_MM_PER_DAY, _IN_PER_DAY, _KG_PER_M2_S, _KG_PER_M2_H),
    {
        "metric": Display(_MM_PER_DAY, _nudges(0.1 / DAY)),
        "us": Display(_IN_PER_DAY, _nudges(10 * INCH / DAY)),
    },
)

# Time --------------------------------------------------------------------------------------------

_S = Unit("s", 1.0, ("sec", "secs", "second*"), many="seconds")
_MIN = Unit("min", 60.0, ("m", "mins", "minute*"), many="minutes")
_H = Unit("h", HOUR, ("hr", "hrs", "hour*"), many="hours")
_D = Unit("d", DAY, ("day*",))
_WK = Unit("wk", 7 * DAY, ("week*", "wks"))
_TIMES = ((0.0, _S), (60.0, _MIN), (HOUR, _H), (2 * DAY, _D))
_DURATION = Kind(
    "a duration",
    12 * HOUR,
    (_S, _MIN, _H, _D, _WK),
    {
        system: Display(_H, (60.0, 900.0, HOUR), _TIMES, digits=4, most=2)
        for system in ("metric", "us")
    },
    chains=((_D, _H, _MIN, _S),),
    tails=(_H,),
)

_CLOCK = Unit("h:min", 1.0)
_TIME_OF_DAY = Kind(
    "a time of day",
    14 * HOUR + 20 * 60,
    (_CLOCK,),
    {system: Display(_CLOCK, (60.0, 900.0, HOUR)) for system in ("metric", "us")},
)

# Light: photons stay in micromoles and moles, as the trade counts them ---------------------------

_UMOL_S = Unit("µmol/s", 1.0, per("umol", "s"))
_MMOL_S = Unit("mmol/s", 1e3, per("mmol", "s"))
_MOL_S = Unit("mol/s", 1e6, per("mol", "s"))
_PHOTON_FLUX = Kind("a photon flux", 120.0, (_UMOL_S, _MMOL_S, _MOL_S), _alike(_UMOL_S, 1.0))

_UMOL_M2_S = Unit("µmol/(m² s)", 1.0, per("umol", "m2", "s"))
_MOL_M2_S = Unit("mol/(m² s)", 1e6, per("mol", "m2", "s"))
_PHOTON_FLUX_DENSITY = Kind(
    "a photon flux density", 150.0, (_UMOL_M2_S, _MOL_M2_S), _alike(_UMOL_M2_S, 5.0, most=1)
)

_MOL_M2_D = Unit("mol/(m² d)", 1.0, per("mol|mols", "m2", _DAYS))
_DAILY_LIGHT = Kind("a daily light", 8.0, (_MOL_M2_D,), _alike(_MOL_M2_D, 0.5))

_UMOL_J = Unit("µmol/J", 1.0, per("umol", "j"))
_MOL_KWH = Unit("mol/kWh", 1 / 3.6, per("mol", "kwh"))
_PHOTON_EFFICACY = Kind("a photon efficacy", 2.7, (_UMOL_J, _MOL_KWH), _alike(_UMOL_J, 0.1))

_LM = Unit("lm", 1.0, ("lumen*",))
_KLM = Unit("klm", 1e3)
_LUMINOUS_FLUX = Kind("a luminous flux", 2000.0, (_LM, _KLM), _alike(_LM, 10.0))

_LM_W = Unit("lm/W", 1.0, per("lm|lumens", "w|watt"))
_LUMINOUS_EFFICACY = Kind("a luminous efficacy", 150.0, (_LM_W,), _alike(_LM_W, 1.0))

_LUX = Unit("lux", 1.0, ("lx", *per("lm", "m2")))
_KLUX = Unit("klx", 1e3, ("klux", "kilolux"))
_FC = Unit("fc", FOOT**-2, ("foot candle*", "footcandle*", "ft cd", *per("lm", _FEET2)))
_ILLUMINANCE = Kind("an illuminance", 8000.0, (_LUX, _KLUX, _FC), _alike(_LUX, 100.0))

# Without a physical unit -------------------------------------------------------------------------

_DEGREE = Unit("°", 1.0, ("deg", "degree*"), gap="")
_RADIAN = Unit("rad", 180 / pi, ("radian*",))
_ANGLE = Kind("an angle", 15.0, (_DEGREE, _RADIAN), _alike(_DEGREE, 1.0))

_NOTHING = Unit("", 1.0, gap="")
_COUNT = Kind("a number", 4.0, (_NOTHING,), _alike(_NOTHING, 1.0))
# Sums of money keep what was typed: cents, and the hundredths of a cent that a kWh is billed in.
_MONEY = Display(_NOTHING, _nudges(1.0), digits=9, most=4)
_SUM = Kind("a sum", 40.0, (_NOTHING,), {"metric": _MONEY, "us": _MONEY})

TABLE: dict[str, Kind] = {
    "length": _LENGTH,
    "area": _AREA,
    "volume": _VOLUME,
    "mass": _MASS,
    "density": _DENSITY,
    "hardness": _HARDNESS,
    "temperature": _TEMPERATURE,
    "temperature_difference": _DIFFERENCE,
    "power": _POWER,
    "apparent_power": _APPARENT,
    "energy": _ENERGY,
    "current": _CURRENT,
    "voltage": _VOLTAGE,
    "flow": _FLOW,
    "speed": _SPEED,
    "pressure": _PRESSURE,
    "vapour_pressure": _VAPOUR_PRESSURE,
    "fan_pressure": _FAN_PRESSURE,
    "fraction": _FRACTION,
    "duration": _DURATION,
    "time_of_day": _TIME_OF_DAY,
    "photon_flux": _PHOTON_FLUX,
    "photon_flux_density": _PHOTON_FLUX_DENSITY,
    "daily_light": _DAILY_LIGHT,
    "luminous_flux": _LUMINOUS_FLUX,
    "illuminance": _ILLUMINANCE,
    "photon_efficacy": _PHOTON_EFFICACY,
    "luminous_efficacy": _LUMINOUS_EFFICACY,
    "angle": _ANGLE,
    "force": _FORCE,
    "u_value": _U_VALUE,
    "irradiance": _IRRADIANCE,
    "humidity_ratio": _HUMIDITY_RATIO,
    "water_rate": _WATER_RATE,
    "evaporation": _EVAPORATION,
    "resistance_per_length": _RESISTANCE_PER_LENGTH,
    "wire_area": _WIRE_AREA,
    "count": _COUNT,
    "sum": _SUM,
}
