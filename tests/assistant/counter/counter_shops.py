"""Catalogues for the tests of the counter: invented shops, with prices chosen so that sums are easy by hand."""

from __future__ import annotations

from pathlib import Path

from assistant.shop import Catalogue, load

#: One bag only, of 20 litres, and 0.5 kg/L.
ONE_BAG = """
[shop]
name = "Pinder Yard"
currency = "GBP"

[product.castings]
name = "Castings"
kind = "castings"
what = "screened"
density = { value = "0.5", unit = "kilogram / litre" }

[pack.bag]
name = "20 litre bag"
product = "castings"
size = { amount = 20, unit = "litre" }
price = "10.00"
"""

#: The same with a tax on top, few in stock, and a loose load by the half cubic metre.
TAXED = (
    ONE_BAG.replace("GBP", "CAD")
    + """stock = 3

[pack.load]
name = "loose, by the cubic metre"
product = "castings"
size = { amount = 1, unit = "cubic_metre" }
price = "300.00"
bulk = { step = "0.5" }
stock = 1

[tax]
name = "sales tax"
rate = "10"
included = false
shown = true
"""
)

#: Bags of every size at the same price a litre, to the penny: so near one another that a short search proves nothing.
FLAT = ONE_BAG + "".join(
    f"""
[pack.bag-{litres}]
name = "{litres} litre bag"
product = "castings"
size = {{ amount = {litres}, unit = "litre" }}
price = "{litres * 0.503:.2f}"
"""
    for litres in (3, 7, 11, 13, 17, 23, 29)
)

#: No plain castings at all.
BLEND_ONLY = """
[shop]
name = "Blends Only"
currency = "USD"

[product.mix]
name = "Bed mix"
kind = "blend"
what = "with compost"
density = { value = "0.6", unit = "kilogram / litre" }
castings = 30

[pack.mix-bag]
name = "Bed mix, 40 litre bag"
product = "mix"
size = { amount = 40, unit = "litre" }
price = "9.00"
"""


def shop(text: str, folder: Path) -> Catalogue:
    """The catalogue of a text."""
    return load(written(text, folder))


def written(text: str, folder: Path) -> Path:
    path = folder / "shop.toml"
    path.write_text(text, encoding="utf-8")
    return path
