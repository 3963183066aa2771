"""Published totals, with their sources."""

PUBLISHED = {
    ("classes", "fixed"): (
        ("Pisinger and Sigurd 2007, 1 h each, as tabulated by Becker 2022", 7266),
        ("Fontan and Libralesso 2020, three stages, 60 s each, as tabulated there", 7278),
        ("Lodi, Monaci and Pietrobuoni 2017, 30 min each, as tabulated there", 7281),
        ("free cutting: Goncalves and Resende 2013", 7234),
        ("least that is proved for edge-to-edge cuts", 7219),
    ),
    ("classes", "rotated"): (
        ("free cutting: Goncalves and Resende 2013", 6988),
        ("least that is proved for edge-to-edge cuts", 6968),
    ),
    ("sizes", "fixed"): (("class 1, exact", 88543),),
    ("sizes", "rotated"): (("class 1, exact", 84026),),
}
"""By family and orientation: where a total is from, and the total."""
