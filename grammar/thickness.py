"""What a bare length may be, told by its size alone: a layer, a depth, or how long a strip is. All in metres."""

from __future__ import annotations

#: Up to this, three inches, a bare length is a layer: nobody fills a bed so thin.
THIN = 0.0762 + 1e-9
#: From this, four inches, a bare length beside the sides of a bed is its depth.
THICK = 0.1016 - 1e-9
#: Past this it is how long a strip is: nobody fills or digs so deep.
FAR = 1.2
