"""Every unit of `grammar/units.txt` against two references that are not the product's own:

- `quantities`, a general units library from PyPI (its own definitions, from the unit database of UDUNITS and CODATA);
- GNU units, Debian's package `units`, where the program is there (its definitions follow NIST's tables).
"""

from __future__ import annotations

import re
import shutil
import subprocess
from functools import lru_cache
from importlib.resources import files

import pytest
import quantities as pq

from grammar.quantities import factor, registry, unit

#: Our unit: the unit of `quantities`, and GNU units' expression. None where the reference has no such unit.
REFERENCES: dict[str, tuple[str | None, str | None]] = {
    "metre": ("m", "m"),
    "kilogram": ("kg", "kg"),
    "second": ("s", "s"),
    "siemens": ("S", "siemens"),
    "millimetre": ("mm", "mm"),
    "centimetre": ("cm", "cm"),
    "decimetre": ("dm", "dm"),
    "kilometre": ("km", "km"),
    "inch": ("inch", "inch"),
    "foot": ("foot", "foot"),
    "yard": ("yard", "yard"),
    "mile": ("mile", "mile"),
    "square_millimetre": ("mm**2", "mm^2"),
    "square_centimetre": ("cm**2", "cm^2"),
    "square_metre": ("m**2", "m^2"),
    "square_inch": ("inch**2", "inch^2"),
    "square_foot": ("foot**2", "foot^2"),
    "square_yard": ("yard**2", "yard^2"),
    "are": ("are", "are"),
    "hectare": ("hectare", "hectare"),
    # the US survey foot and the international one differ by two in a million: GNU units' "intacre" is 43560 of ours
    "acre": ("acre", "intacre"),
    "cubic_metre": ("m**3", "m^3"),
    "litre": ("litre", "litre"),
    "cubic_decimetre": ("dm**3", "dm^3"),
    "decilitre": ("0.1*litre", "decilitre"),
    "centilitre": ("0.01*litre", "centilitre"),
    "millilitre": ("0.001*litre", "millilitre"),
    "cubic_centimetre": ("cm**3", "cm^3"),
    "cubic_inch": ("inch**3", "inch^3"),
    "cubic_foot": ("foot**3", "foot^3"),
    "cubic_yard": ("yard**3", "yard^3"),
    "us_gallon": ("US_liquid_gallon", "usgallon"),
    "us_quart": ("US_liquid_quart", "usquart"),
    "us_pint": ("US_liquid_pint", "uspint"),
    "us_cup": ("US_liquid_cup", "uscup"),
    "fluid_ounce": ("US_fluid_ounce", "usfloz"),
    "tablespoon": ("tablespoon", "ustablespoon"),
    "teaspoon": ("teaspoon", "usteaspoon"),
    "us_bushel": ("US_bushel", "usbushel"),
    "us_peck": ("peck", "uspeck"),
    "us_dry_gallon": ("US_dry_gallon", "drygallon"),
    "us_dry_quart": ("US_dry_quart", "dryquart"),
    "us_dry_pint": ("US_dry_pint", "drypint"),
    "imperial_gallon": ("UK_liquid_gallon", "brgallon"),
    "imperial_quart": ("UK_liquid_quart", "brquart"),
    "imperial_pint": ("UK_liquid_pint", "brpint"),
    "imperial_cup": ("UK_liquid_cup", "brcup"),
    "metric_cup": (None, "metriccup"),
    "gram": ("g", "g"),
    "milligram": ("mg", "mg"),
    "tonne": ("tonne", "tonne"),
    "pound": ("pound", "pound"),
    "ounce": ("ounce", "ounce"),
    "stone": ("stone", "stone"),
    "hundredweight": ("100*pound", "ushundredweight"),
    "us_ton": ("short_ton", "shortton"),
    "imperial_ton": ("long_ton", "longton"),
    "minute": ("minute", "minute"),
    "hour": ("hour", "hour"),
    "day": ("day", "day"),
    "week": ("week", "week"),
    # a month of 1/12 of a year of 365.25 days
    "month": (None, "julianyear/12"),
    "year": ("365.25*day", "julianyear"),
    "fraction": ("dimensionless", "1"),
    "percent": ("0.01*dimensionless", "percent"),
    "per_mille": ("0.001*dimensionless", "0.001"),
    "decisiemens_per_metre": ("0.1*S/m", "0.1 siemens/m"),
    "millisiemens_per_centimetre": ("0.001*S/cm", "millisiemens/cm"),
    "millimho_per_centimetre": ("0.001*S/cm", "millimho/cm"),
}

#: Units that are moved as well as stretched; they are checked by points on the scale instead.
SCALES = {"kelvin", "celsius", "fahrenheit"}

GNU_UNITS = shutil.which("units")
#: The coherent SI unit of each dimension, as GNU units is asked for it.
_COHERENT = {
    "length": "m", "area": "m^2", "volume": "m^3", "weight": "kg", "time": "s", "number": "1", "conductivity": "siemens/m",
    "[conductance]": "siemens",
}  # fmt: skip


def _defined() -> set[str]:
    text = (files("grammar") / "units.txt").read_text(encoding="utf-8")
    return {match[1] for match in re.finditer(r"^(\w+) = ", text, re.MULTILINE)}


def _ours(name: str) -> float:
    return float(registry().Quantity(1.0, name).to_base_units().magnitude)


def test_every_unit_is_checked() -> None:
    assert _defined() == set(REFERENCES) | SCALES


@pytest.mark.parametrize("name", sorted(name for name, (reference, _) in REFERENCES.items() if reference))
def test_against_the_library(name: str) -> None:
    expression = REFERENCES[name][0]
    assert expression is not None
    names = {one: getattr(pq, one) for one in re.findall(r"[A-Za-z_]\w*", expression)}
    theirs = eval(expression, {"__builtins__": {}}, names)
    assert _ours(name) == pytest.approx(float((1.0 * theirs).simplified.magnitude), rel=1e-9)


@lru_cache(maxsize=1)
def _gnu() -> dict[str, float]:
    """Every expression in its coherent unit, by one run of GNU units."""
    assert GNU_UNITS is not None
    rows = [(name, ours) for name, (_, ours) in REFERENCES.items() if ours]
    asked = "".join(f"{expression}\n{_COHERENT[unit(name).dimension]}\n" for name, expression in rows)
    done = subprocess.run([GNU_UNITS, "--quiet", "--one-line", "--strict", "--output-format", "%.14g"], input=asked, text=True,
                          capture_output=True, check=True)  # fmt: skip
    found = [float(number) for number in re.findall(r"^\s*\*?\s*([-+.\de]+)\s*$", done.stdout, re.MULTILINE)]
    assert len(found) == len(rows), done.stdout
    return {name: number for (name, _), number in zip(rows, found, strict=True)}


@pytest.mark.skipif(GNU_UNITS is None, reason="GNU units is not installed")
@pytest.mark.parametrize("name", sorted(name for name, (_, expression) in REFERENCES.items() if expression))
def test_against_gnu_units(name: str) -> None:
    assert _ours(name) == pytest.approx(_gnu()[name], rel=1e-9)


@pytest.mark.parametrize(("celsius", "fahrenheit"), [(0, 32), (100, 212), (-40, -40), (25, 77), (55, 131)])
def test_temperatures_by_points_of_the_scale(celsius: float, fahrenheit: float) -> None:
    # the scale's fixed points, and two more by its definition, F = 1.8 C + 32
    moved = registry().Quantity(celsius, "celsius").to("fahrenheit")
    assert moved.magnitude == pytest.approx(fahrenheit, abs=1e-9)


def test_the_cached_factor_is_pints_own() -> None:
    for name in REFERENCES:
        assert factor(name) == _ours(name)
