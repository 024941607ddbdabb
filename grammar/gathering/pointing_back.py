"""Words that point at what was told before: "half of it", "10 % of the total", "a fifth of that".

Each is looked for right behind the number, the part or the word "of" that it goes with.
"""

from __future__ import annotations

import re

from ..later import later

_IT = "it|that|this"
#: Behind "of".
IT = later(rf"\s+(?:{_IT})\b", re.IGNORECASE)
#: Behind a share: of what was spoken of, be it one thing or the sum of all.
OF_IT_OR_ALL = later(rf"\s*of (?:{_IT}|which|the total)\b", re.IGNORECASE)
#: Behind a part of a place or of several: not "of it all", which is no part.
OF_IT_OR_THEM = later(rf"\s+of\s+(?:{_IT}|them)\b(?!\s+all\b)", re.IGNORECASE)
