"""The page with the folds from above: what it says of the cloth adds up as it is written."""

from __future__ import annotations

import re
from math import floor
from pathlib import Path

import pytest

from pleatwright.layout import make_plan
from pleatwright.lengths import parse_length
from pleatwright.order import read_order
from pleatwright.sheets.drawing import Text
from pleatwright.sheets.flow import numbered
from pleatwright.sheets.look import frame_of
from pleatwright.sheets.pages.top_view_page import top_view_sheets

LENGTH = re.compile(r"[\d/ ]+(\"| mm)?|\"")
EXAMPLES = Path(__file__).parents[2] / "examples"


@pytest.mark.parametrize("units", ["in", "metric"])
@pytest.mark.parametrize("name", ["demo", "womans-taper", "box-four-yards", "measured-piece"])
def test_the_parts_of_the_cloth_add_up_to_what_the_kilt_takes(name, units):
    job = read_order((EXAMPLES / f"{name}.toml").read_text(encoding="utf-8"), units=units)
    frame = frame_of(job)
    for option in make_plan(job.request).options[:4]:
        pages = numbered(job, frame, top_view_sheets(job, option, frame))
        texts = [item for page in pages for item in page.items if isinstance(item, Text)]
        (head,) = (one for one in texts if one.text == "cloth")
        lines: dict[int, str] = {}
        for one in texts:
            row = floor((one.y - head.y) / 0.24)  # a fraction is written a little higher than its number
            if row >= 0 and one.x > head.x - 1 and LENGTH.fullmatch(one.text):
                lines[row] = f"{lines.get(row, '')} {one.text}"
        *parts, total = (parse_length(lines[row]) for row in sorted(lines))
        assert len(parts) >= 7
        assert sum(parts) == total
