"""The bench: marks for the cloth, gauges for the pleats, where every part lies, cautions."""

from pleatwright.bench.cautions import CAUTIONS, Caution
from pleatwright.bench.gauges import Gauge, GaugeList, GaugeRow, GaugeSize, gauge_list
from pleatwright.bench.marks import Mark, marks
from pleatwright.bench.regions import Part, Region, regions
from pleatwright.bench.ruler import Place, Ruler, grid_of, ruler_across, ruler_along, ruler_of

__all__ = [
    "CAUTIONS",
    "Caution",
    "Gauge",
    "GaugeList",
    "GaugeRow",
    "GaugeSize",
    "Mark",
    "Part",
    "Place",
    "Region",
    "Ruler",
    "gauge_list",
    "grid_of",
    "marks",
    "regions",
    "ruler_across",
    "ruler_along",
    "ruler_of",
]
