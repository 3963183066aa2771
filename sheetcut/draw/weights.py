"""How wide the pens are, in millimetres.

Source:
    ISO 128-2:2022 has the widths 0.13, 0.18, 0.25, 0.35, 0.5, 0.7, 1.0, 1.4 and 2.0, each √2 times
    the one before, and asks for a wide line twice as wide as a narrow one (from memory of the
    standard; the series agrees with a published pen chart).
"""

from __future__ import annotations

SERIES = (0.13, 0.18, 0.25, 0.35, 0.5, 0.7, 1.0, 1.4, 2.0)

OUTLINE = 0.7  # the true edges of the sheet
LONG_CUT = 0.7
CUT = 0.5
RULE = 0.35  # under headings
KEEPER = 0.35
FINE = 0.25  # rulers, flags, thumbnails
DECKLE = 0.18
FIBRE = 0.18
LEADER = 0.18
MARGIN = 0.18
ENGRAVED = 0.18  # marks of the rulers
ENGRAVED_FINEST = 0.13
MEASURED_EDGE = 1.0  # in a thumbnail: the edge to measure from
MEASURED_EDGE_SMALL = 0.7
THUMBNAIL_CUT = 0.5

MARGIN_DASHES = (1.1, 0.8)
BORDER_DASHES = (0.3, 0.8)
SQUARING_DASHES = (1.2, 0.8)
