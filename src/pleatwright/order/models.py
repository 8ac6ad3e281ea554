"""The order file's tables as pydantic meets them; lengths become exact inches on the way in.

Every field may be left out here, so that a file with one mistake is still read; what an order cannot do
without is asked for where it is used.
"""

from __future__ import annotations

from typing import Annotated, Any, ClassVar

from pydantic import BaseModel, BeforeValidator, ConfigDict, Field, GetJsonSchemaHandler, model_validator
from pydantic_core import CoreSchema

from pleatwright.order.values import (
    Colour,
    Count,
    Day,
    DayOrWords,
    EdgeWord,
    FirstSewn,
    Length,
    PaperWord,
    PivotsWord,
    Pleats,
    Share,
    Side,
    Size,
    StripNumber,
    TaperWord,
    Text,
    UnitsWord,
    WearerKind,
)
from pleatwright.sett import SHADES


class Table(BaseModel):
    """One table of the file; a name it does not know is a mistake."""

    model_config = ConfigDict(extra="forbid", frozen=True, use_attribute_docstrings=True)

    required: ClassVar[tuple[str, ...]] = ()
    """Fields no order can do without."""
    plain: ClassVar[str] = ""
    """The field that a plain value stands for, where one may be written in place of the table."""

    @model_validator(mode="before")
    @classmethod
    def _from_plain_value(cls, value: Any) -> Any:
        return {cls.plain: value} if cls.plain and not isinstance(value, dict) else value

    @classmethod
    def __get_pydantic_json_schema__(cls, core: CoreSchema, handler: GetJsonSchemaHandler) -> dict[str, Any]:
        reference = handler(core)
        schema = handler.resolve_ref_schema(reference)
        schema["required"] = list(cls.required)
        if not cls.plain or set(cls.required) - {cls.plain}:
            return reference
        return {"anyOf": [{"type": ["string", "number"]}, reference]}


class ClientTable(Table):
    """Whose order it is."""

    required = ("name",)

    name: Text | None = None
    """The client's name, as it is to be printed on every page."""
    reference: Text | None = None
    """The shop's own reference for this order."""
    measured_on: Day | None = None
    """The day the measurements were taken: 2031-05-04."""
    promised: DayOrWords | None = None
    """When the kilt is promised."""
    notes: Text | None = None
    """What the client said."""


class TakenTable(Table):
    """Where the tape lay, measurement by measurement; what is usual is filled in."""

    waist: Text | None = None
    """Where the waist was taken."""
    hips: Text | None = None
    """Where the hips were taken."""
    drop: Text | None = None
    """From where to where the drop was taken."""
    total: Text | None = None
    """From where to where the total length was taken."""
    fell_drop: Text | None = None
    """From where to where the fell drop was taken."""
    drop_side: Text | None = None
    """From where to where the drop at the side was taken."""
    drop_back: Text | None = None
    """From where to where the drop at the back was taken."""


class WearerTable(Table):
    """The body, measured standing."""

    required = ("kind", "waist", "hips")

    kind: WearerKind | None = None
    """man, woman or child."""
    waist: Length | None = None
    """Snug, at the strap line."""
    hips: Length | None = None
    """Loose, at the fullest seat; with a belly over a rolled towel."""
    drop: Length | None = None
    """From the strap line to the bottom edge, in front."""
    total: Length | None = None
    """From the top edge to the bottom edge, where the drop was not taken: drop + rise."""
    fell_drop: Length | None = None
    """From the strap line down to the fullest seat."""
    rise: Length | None = None
    """Height of the top edge above the strap line, as chosen; usually 2 inches."""
    drop_side: Length | None = None
    """The drop at the side, taken with a belly."""
    drop_back: Length | None = None
    """The drop at the back, taken with a belly."""
    towel: bool | None = None
    """Whether the hips were taken over a rolled towel."""
    figure: Text | None = None
    """What the tape does not say: stoop, hollow back, one hip higher."""
    taken: TakenTable | None = None
    """Where the tape lay."""


class KiltTable(Table):
    """The kilt's shape."""

    opens_on: Side | None = None
    """The wearer's side it opens on; usually right."""
    taper: TaperWord | None = None
    """man: parallel above the strap line; woman: one straight line from hip line to top edge."""
    opening_above_strap: Length | None = None
    """How much wider the top edge is than the strap line, over the whole round."""
    lap: Length | None = None
    """How far the over-apron laps over at the fringed edge; usually 0 or 1."""
    hem: Length | None = None
    """Hem added to the length."""
    share_waist: Share | None = None
    """The apron's part of the round at the waist, usually 1/2."""
    share_hips: Share | None = None
    """The apron's part of the round at the hips, usually 1/2."""


class StripeRef(Table):
    """One stripe: colour and size as written, and what tells it from others like it."""

    plain = "stripe"

    stripe: Text | None = None
    """Colour and threads as written in the count: K32."""
    then: Text | None = None
    """What follows to the right (up from the selvedge), where it occurs more than once: G32, G32 K6."""
    number: Count | None = None
    """Its number in the full sett, counted from the first written stripe."""


class AnchorTable(StripeRef):
    """One stripe, and how far its centre lies from the edge of the cloth."""

    required = ("distance",)

    distance: Length | None = None
    """From the edge to the stripe's centre."""


class ReadingTable(StripeRef):
    """One stripe read off the tape; a stripe left out is that of the reading before."""

    required = ("at",)

    repeat: Count | None = None
    """Which time this stripe's centre is met, from the left end on: 1 is the first; where it was not counted,
    leave it out."""
    at: Length | None = None
    """Tape position of the stripe's centre, always from the same left end."""
    kept: bool | None = None
    """true: measured again, and it stands."""


class RepeatsTable(StripeRef):
    """Successive repeats of one stripe, measured one by one; less exact than readings from one end."""

    required = ("first", "sizes")

    first: Length | None = None
    """Tape position of the first centre of the stripe, from the left end."""
    sizes: list[Size] | None = None
    """From each centre to the next one."""
    kept: list[Count] | None = None
    """Numbers of the sizes that were measured again and stand."""


class FaultTable(Table):
    """A place that must not show."""

    required = ("kind", "from", "to")

    kind: Text | None = None
    """knot, hole, stain, bad selvedge."""
    start: Length | None = Field(None, alias="from")
    """Tape position where it begins."""
    end: Length | None = Field(None, alias="to")
    """Tape position where it ends."""
    low: Length | None = None
    """Its lower end above the selvedge of its strip; left out: it begins at the selvedge."""
    high: Length | None = None
    """Its upper end above the selvedge of its strip; left out: it goes right up."""
    strip: StripNumber | None = None
    """1: along the bottom selvedge; 2: along the other selvedge of a double width."""
    note: Text | None = None
    """What else is to be known."""


class ArrivalTable(Table):
    """What was found when the piece came, before anything was cut."""

    invoiced: Size | None = None
    """The length on the invoice."""
    end_out: Length | None = None
    """How far an end runs out of square over the width."""
    skew: Length | None = None
    """How far a weft stripe leans over the width."""
    edge: EdgeWord | None = None
    """The left end: true, tucked or open fringe."""
    sound_from: Length | None = None
    """How far in from the very end the first sound thread lies; the tape counts from that thread."""
    shade: Text | None = None
    """What is wrong with the shade; leave it out where it is right."""
    relaxed: bool | None = None
    """Whether the cloth has lain open or been steamed before it was read."""


class SettTable(Table):
    """The size of one written sett, best measured over many."""

    plain = "measured"
    required = ("measured",)

    measured: Size | None = None
    """What the tape said over `over` setts."""
    over: Count | None = None
    """How many setts that was."""


def _as_list(value: Any) -> Any:
    return [value] if isinstance(value, str | dict) else value


class WishesTable(Table):
    """What is wished for; everything left open is searched."""

    styles: Annotated[list[Text], BeforeValidator(_as_list)] | None = None
    """"all", or styles such as "knife to the sett", "box to the stripe", "military box", "centre box"."""
    pleats: Pleats | None = None
    """An exact number of pleats."""
    reveal: Size | None = None
    """The reveal to aim at, at the hip line."""
    stripe: StripeRef | None = None
    """The stripe to pleat to."""
    apron_stripe: StripeRef | None = None
    """The stripe in the middle of the apron."""
    same_middle: bool | None = None
    """Whether the middle of the back must show the apron's centre stripe; usually true."""
    keep_whole: Annotated[list[StripeRef], BeforeValidator(_as_list)] | None = None
    """Lines that a kilt to the sett must show whole, each on one pleat: ["W4", "Y2"]."""
    split: Annotated[list[StripeRef], BeforeValidator(_as_list)] | None = None
    """Lines that are split on purpose over two pleats, a fold at their centre."""


class TartanTable(Table):
    """The pattern."""

    name: Text | None = None
    """The tartan's name."""
    count: str | None = None
    """The thread count: B/24 W4 B24 R2 K24 G24 W/2."""
    widths: list[tuple[Text, Size]] | None = None
    """In place of a count: every stripe's measured width over one sett, [["B", "1 1/2"], ["W", "1/4"]]."""
    symmetric: bool | None = None
    """With widths: whether the first and last stripe are pivots."""
    pivots: PivotsWord | None = None
    """Whether the number at a pivot is the whole stripe or half of it; usually whole."""
    shade: Annotated[Text | None, Field(json_schema_extra={"enum": list(SHADES)})] = None
    """The dye to draw it in."""
    colours: dict[str, Colour] | None = None
    """Colours of your own: LB = "#8FB4D9"."""
    sett: SettTable | None = None
    """The size of one written sett along the selvedge, as woven."""
    sett_across: SettTable | None = None
    """The same from selvedge to selvedge; where it is not given, as along."""


class PieceTable(Table):
    """The cloth on the table; leave it out while none has been bought."""

    required = ("width", "length")

    width: Size | None = None
    """From selvedge to selvedge."""
    length: Size | None = None
    """Along the selvedge: "8 1/2 yd", "7.8 m"."""
    sett: SettTable | None = None
    """The size of one written sett measured on this piece, along the selvedge."""
    sett_across: SettTable | None = None
    """The same from selvedge to selvedge."""
    left_end: AnchorTable | None = None
    """A stripe near the left cut end: outside up, the selvedge that will be the bottom edge towards you."""
    selvedge: AnchorTable | None = None
    """A stripe near that bottom selvedge."""
    readings: list[ReadingTable] | None = None
    """Tape readings of named stripes along the bottom selvedge, about every four setts."""
    repeats: RepeatsTable | None = None
    """In place of readings: successive repeats measured one by one."""
    second_readings: list[ReadingTable] | None = None
    """Readings along the other selvedge of a double width, as it lies, from the same left end."""
    readings_across: list[ReadingTable] | None = None
    """Heights of named stripes above the bottom selvedge."""
    faults: list[FaultTable] | None = None
    """Knots, holes, stains, bad selvedge: places that must not show."""
    arrival: ArrivalTable | None = None
    """What was found when the piece came."""


class GaugeTable(Table):
    """A gauge the shop owns."""

    plain = "marked"
    required = ("marked",)

    marked: Size | None = None
    """The width written on it."""
    width: Size | None = None
    """Its true width, as measured; left out: as marked."""


class ShopTable(Table):
    """Whose packet it is."""

    name: Text | None = None
    """The shop's name."""
    paper: PaperWord | None = None
    """Paper of the packet; usually A4."""
    units: UnitsWord | None = None
    """in or metric: what a bare number means, and what is printed."""
    hand: Side | None = None
    """The hand the maker sews with; usually right."""
    sewn_first: FirstSewn | None = None
    """over-apron: it is sewn to the first pleat before the others; pleats: all pleats, then the aprons."""
    gauges: list[GaugeTable] | None = None
    """The gauges in the drawer."""


class ShopFile(Table):
    """A shop's own file: what its orders share."""

    shop: ShopTable | None = None
    """Name, paper and units."""
    settings: dict[str, Any] | None = None
    """The shop's own settings."""


class OrderFile(Table):
    """An order for one kilt."""

    required = ("client", "wearer", "tartan")

    client: ClientTable | None = None
    """Whose order it is."""
    wearer: WearerTable | None = None
    """The body, measured standing."""
    kilt: KiltTable | None = None
    """The kilt's shape."""
    wishes: WishesTable | None = None
    """What is wished for; everything left open is searched."""
    tartan: TartanTable | None = None
    """The pattern."""
    piece: PieceTable | None = None
    """The cloth on the table; leave it out while none has been bought."""
    shop: ShopTable | None = None
    """Whose packet it is."""
    settings: dict[str, Any] | None = None
    """The shop's settings, as far as this order differs: [settings.wearer] ease_hips = "1/2"."""
