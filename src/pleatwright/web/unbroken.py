"""A written length never breaks over two lines: 2 1/8" read as 2 and 1/8" is cut wrong."""

from __future__ import annotations

import re

_UNITS = "in|inch|inches|cm|mm|m|yd|yard|yards|metre|metres|oz|h|hour|hours"
_TAGS = re.compile(r"(<script\b.*?</script>|<(?:textarea|option)\b[^>]*>[^<]*|<[^>]*>)", re.DOTALL)
_WITHIN = re.compile(rf" (?:(?<=\d )(?=\d+/\d|(?:{_UNITS})\b)|(?<=[+±−] )(?=\d))")


def unbroken(page: str) -> str:
    """The page with no-break spaces inside every length: between number, fraction and unit.

    What is typed or chosen stays as it is, for it comes back as it was sent.
    """
    parts = _TAGS.split(page)
    parts[::2] = [_WITHIN.sub("\N{NO-BREAK SPACE}", words) for words in parts[::2]]
    return "".join(parts)
