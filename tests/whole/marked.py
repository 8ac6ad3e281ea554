"""What a maker finds on the first example's cloth when it is marked right."""

MARKED_RIGHT = {
    "height_left": "23 7/16",
    "height_middle": "23 1/2",
    "height_right": "23 3/8",
    "rip_stripes": "LB4 B24",
    "left_apron": "over-apron",
    "left_apron_centre": "15 3/4",
    "left_apron_stripes": "W6 K14",
    "far_pleat_centre": "219 7/8",
    "far_pleat_stripes": "B24 K14",
    "setts": "34",
    "length": "306",
    "fringe": "0",
    "left_facing": "5",
    "right_facing": "57 3/4",
    "end_out": "1/8",
    "lean": "0",
    "above_rip": "5 1/2",
    "band_beside": "0",
    "faults": "none",
}
