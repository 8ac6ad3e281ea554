"""One way of pleating: how many strips, how they follow one another, what each stands for."""

from __future__ import annotations

from dataclasses import dataclass
from typing import overload

import numpy as np

from pleatwright.cloth import Numbers, Rows
from pleatwright.pleats.forms import Form, Kind, Shows

LEFT_OUT = -1
"""Class of a strip that is like no other: the wide middle of a centre box."""


@dataclass(frozen=True, slots=True)
class Pleating:
    """N strips in threads, before they are laid on a piece.

    `first`: phase of the first strip's centre.  `gaps`: threads from each centre to the next (N - 1 of them).
    `shown`: threads of flat tartan that one reveal stands for, None unless to the sett.
    `centre_face`: width of the middle panel in reveals; 1 unless a centre box.
    `middle`: the phase that lies in the middle of the back.
    `division`: parts of a sett (even division only).  `setts`: whole setts in each fold (0: less than one).
    `stripes`: the stripes the strips are centred on.  `takes`: which occurrences, in words.
    `classes`: for each strip, a number shared by the strips that ought to look alike (not to the sett).
    `steps`: `shown` strip by strip where it differs (uneven division only), else none.
    """

    form: Form
    shows: Shows
    pleats: int
    first: float
    gaps: tuple[float, ...]
    middle: float
    shown: float | None = None
    centre_face: float = 1.0
    division: int | None = None
    setts: int = 1
    stripes: tuple[str, ...] = ()
    takes: str = ""
    classes: tuple[int, ...] = ()
    steps: tuple[float, ...] = ()

    @property
    def kind(self) -> Kind:
        """Form and what it shows."""
        return Kind(self.form, self.shows)

    @property
    def span(self) -> float:
        """Threads from the first strip's centre to the last one's."""
        return sum(self.gaps)

    def stands_for(self, strip: int) -> float:
        """Threads of flat tartan that a strip stands for, to the sett; `strip` counts from 0."""
        if self.shown is None:
            raise ValueError("only a strip to the sett stands for flat tartan")
        return self.face(strip) * (self.steps[strip] if self.steps else self.shown)

    def face(self, strip: int) -> float:
        """Width of a strip in reveals; `strip` counts from 0."""
        return self.centre_face if strip == self.pleats // 2 else 1.0

    @property
    def faces(self) -> float:
        """Reveals that make up the whole pleated width."""
        return self.pleats - 1 + self.centre_face


@overload
def reveals(pleated_width: float, pleats: int, centre_face: float = 1.0) -> float: ...
@overload
def reveals(pleated_width: float, pleats: Rows, centre_face: float = 1.0) -> Numbers: ...
def reveals(pleated_width: float, pleats: int | Rows, centre_face: float = 1.0) -> float | Numbers:
    """One reveal in inches when `pleats` strips fill the pleated width at some level: r = P / N."""
    faces = pleats - 1 + centre_face
    return pleated_width / (faces if isinstance(faces, float) else np.asarray(faces, dtype=float))
