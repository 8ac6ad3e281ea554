"""The usual colour codes, their words, and four shades of dye to draw them in.

The codes are the common letters of written thread counts with L for light and D for
dark, common practice, no source; the shades are our own choice of plausible wool dyes, for drawing only.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

SHADES = ("modern", "ancient", "weathered", "muted")

_TABLE = """
A   azure        #4A8DC4 #86B1CF #7C98A6 #5F88A3
B   blue         #23408C #5378AC #56657F #3E5577
C   crimson      #A01435 #C0505F #96525A #85323F
G   green        #14592F #5A8A57 #66704A #3F5F3E
K   black        #14161A #3B3C42 #4A443F #2A2826
N   grey         #84888B #A3A6A5 #948E83 #7D7A74
O   orange       #DD6A16 #E2904E #BC7C4C #B8662C
P   purple       #552A72 #80639A #6F5D73 #5C4562
R   red          #C3171F #D9594A #AE5F52 #9A342F
T   brown        #6A4324 #96714F #82694F #644A35
V   violet       #7A3E93 #A07FB4 #877489 #745578
W   white        #F4F2EA #F1ECDB #DED4BC #E6DDC9
Y   yellow       #EFC017 #EBCB61 #C9A958 #CFA63B
LB  light~blue   #7FA6D9 #A6C3DF #99ABB8 #86A1BA
DB  dark~blue    #152350 #374F7E #3C465A #27344D
LG  light~green  #5E9E58 #93B487 #92976C #7A9468
DG  dark~green   #0C3A22 #3A6544 #4A5238 #2A4330
LN  light~grey   #B9BCBC #C9CAC5 #B9B2A4 #ADA89E
DN  dark~grey    #4C5055 #6C6F72 #655F58 #524F4B
LO  light~orange #EE9A4C #F0B27C #D3A071 #D48F57
DO  dark~orange  #B24D0C #C47238 #9A6038 #94491B
LP  light~purple #9372AE #B09CC2 #9A8B9C #8F7C95
DP  dark~purple  #36184C #5C4475 #514355 #40304A
LR  light~red    #E0605F #E88F83 #C98C7E #BE6A61
DR  dark~red     #86101A #A83A36 #80433C #6C2424
LT  light~brown  #A27A4E #BD9C77 #A89072 #94785A
DT  dark~brown   #42291A #6C4F38 #594737 #402F24
LY  light~yellow #F7DC74 #F3DF9C #DCC68C #E0C578
DY  dark~yellow  #C3930C #CBA63E #A88B40 #A98424
"""


def _rows() -> list[list[str]]:
    return [line.split() for line in _TABLE.strip().splitlines()]


_WORDS = MappingProxyType({row[0]: row[1].replace("~", " ") for row in _rows()})
_PALETTES = MappingProxyType(
    {
        shade: MappingProxyType({row[0]: row[column] for row in _rows()})
        for column, shade in enumerate(SHADES, start=2)
    }
)

CODES = tuple(_WORDS)
"""The codes known without being given a colour."""


def colour_word(code: str) -> str:
    """The colour as a maker says it: "light blue" for LB; a code not in the table stands as it is."""
    return _WORDS.get(code, code)


def default_palette(shade: str = "modern") -> Mapping[str, str]:
    """Colour code to #RRGGBB for every known code, in one of `SHADES`. Raises KeyError for another."""
    return _PALETTES[shade]
