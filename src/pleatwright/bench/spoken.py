"""Lengths as they are read aloud: 19 11/16" becomes "19 and 11 sixteenths inches"."""

from __future__ import annotations

import re

_PARTS = {2: ("half", "halves"), 4: ("quarter", "quarters"), 8: ("eighth", "eighths")}
_PARTS |= {16: ("sixteenth", "sixteenths"), 32: ("thirty-second", "thirty-seconds")}
_LENGTH = re.compile(
    r"(?:(?P<whole>\d+) )?(?P<top>\d+)/(?P<bottom>2|4|8|16|32)\"|(?P<inches>\d+)\"|(?P<mm>\d+) mm\b"
)
_SIGNS = {"−": " minus ", "+": " plus "}


def spoken(text: str) -> str:
    """The text with every length in words, so that no voice reads a fraction as a date or a division."""
    said = _LENGTH.sub(_said, text)
    for sign, word in _SIGNS.items():
        said = said.replace(f" {sign} ", word)
    return said


def _said(found: re.Match[str]) -> str:
    if found["mm"]:
        return f"{found['mm']} millimetre{'' if found['mm'] == '1' else 's'}"
    if found["inches"]:
        return f"{found['inches']} inch{'' if found['inches'] == '1' else 'es'}"
    top = int(found["top"])
    part = f"{top} {_PARTS[int(found['bottom'])][top > 1]}"
    return f"{found['whole']} and {part} inches" if found["whole"] else f"{part} of an inch"
