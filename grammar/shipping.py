"""The build step that puts the ready-made tables into a wheel, so that a fresh install starts fast.

It belongs to setuptools' build and is never imported by the program. The tables are made by the copy of the
package that is being built; where that cannot be done (a library is missing in the building place) the
wheel goes without, and the first start makes them.
"""

from __future__ import annotations

import os
import subprocess
import sys

from setuptools.command.build_py import build_py  # type: ignore[import-untyped, unused-ignore]

_SHIP = """
import sys
from grammar import parse, quantities, words
for table in (words.WORDS, parse.TABLES, quantities.UNITS):
    table.ship(sys.argv[1])
"""


class BuildWithTables(build_py):  # type: ignore[misc, unused-ignore]
    """setuptools' build of the packages, and the tables with them."""

    def run(self) -> None:
        super().run()
        if self.editable_mode:
            return  # the sources may change at any time
        folder = os.path.join(os.path.abspath(self.build_lib), "grammar", "made")
        # what is written to a cache while building would be of no use
        environment = {**os.environ, "PYTHONDONTWRITEBYTECODE": "1", "XDG_CACHE_HOME": os.devnull}
        made = subprocess.run([sys.executable, "-c", _SHIP, folder], cwd=self.build_lib, env=environment, check=False,
                              capture_output=True, text=True)  # fmt: skip
        if made.returncode:
            self.announce(f"no tables are shipped: {made.stderr.strip().splitlines()[-1:]}", level=3)
