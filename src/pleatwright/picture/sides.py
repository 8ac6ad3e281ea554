"""What is seen beside the flat middle of a picture, where the kilt goes round the body.  Inches."""

from __future__ import annotations

import numpy as np

from pleatwright.cloth import Numbers
from pleatwright.layout import Option, Request
from pleatwright.picture.faces import Faces, apron_tapes, pleat_faces

RADIUS, TURNED = 2.2, 1.2  # the body at the side as a round, inches; how far we see round it, radians
BESIDE = RADIUS * float(np.sin(TURNED))
"""How wide a side is in the picture."""

_ARC = RADIUS * TURNED
_PARTS = 8
LEFT, RIGHT = -1, 1


def opening_side(option: Option) -> int:
    """On which side of the back the apron's fringed edge lies: the wearer's right is at the right."""
    return RIGHT if option.opens_on == "right" else LEFT


def pleats_beside(option: Option, request: Request, depths: Numbers, edge: Numbers, side: int) -> Faces:
    """Pleats going on from the over-apron's edge (its place in the drawing, row by row); front view.

    At the fringed edge the lap hides some of them.
    """
    pleats = pleat_faces(option, request, depths)
    lap = float(request.sizes.lap) if side == -opening_side(option) else 0.0
    if side == RIGHT:
        begins = pleats.edges[:, 0] + lap
        seen = pleats.within(begins, begins + _ARC)
    else:
        begins = pleats.edges[:, -1] - lap
        seen = pleats.within(begins - _ARC, begins)
    return _round(seen, begins, edge)


def apron_beside(option: Option, request: Request, depths: Numbers, edge: Numbers, side: int) -> Faces:
    """The over-apron going on from where the pleats end, at `edge` in the drawing; back view."""
    left, right = apron_tapes(option.over_apron, request, depths)
    away = np.linspace(0, _ARC, _PARTS + 1)
    tapes = left[:, None] + away if side == RIGHT else right[:, None] - away[::-1]
    begins = left if side == RIGHT else right
    return _round(Faces(tapes, tapes[:, :-1], tapes[:, 1:]), begins, edge)


def _round(flat: Faces, begins: Numbers, edge: Numbers) -> Faces:
    """Laid round the body from `begins` on, which comes to lie at `edge`."""
    angle = np.clip((flat.edges - begins[:, None]) / RADIUS, -TURNED, TURNED)
    return Faces(edge[:, None] + RADIUS * np.sin(angle), flat.start, flat.end)
