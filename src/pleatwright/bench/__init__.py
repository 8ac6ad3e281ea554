"""The bench: marks for the cloth, gauges for the pleats, where every part lies, cautions."""

from pleatwright.bench.at_table import Drawn, Landmark, Step, TablePart, table_steps
from pleatwright.bench.cautions import CAUTIONS, Caution
from pleatwright.bench.check import judge
from pleatwright.bench.check_blanks import Blank, Kind, Question, questions
from pleatwright.bench.check_found import Decision, FaultSeen, Found, Override, Seen, decision
from pleatwright.bench.cloth import cloth_findings, drift_avoided, nominal_error
from pleatwright.bench.drawer import Gauge, GaugeSize, GaugeUse, Reading, exact_size
from pleatwright.bench.gauges import GaugeList, GaugeRow, gauge_list
from pleatwright.bench.marks import Mark, marks
from pleatwright.bench.regions import Part, Region, regions
from pleatwright.bench.ruler import Place, Ruler, grid_of, ruler_across, ruler_of
from pleatwright.bench.spoken import spoken

__all__ = [
    "CAUTIONS",
    "Blank",
    "Caution",
    "Decision",
    "Drawn",
    "FaultSeen",
    "Found",
    "Gauge",
    "GaugeList",
    "GaugeRow",
    "GaugeSize",
    "GaugeUse",
    "Kind",
    "Landmark",
    "Mark",
    "Override",
    "Part",
    "Place",
    "Question",
    "Reading",
    "Region",
    "Ruler",
    "Seen",
    "Step",
    "TablePart",
    "cloth_findings",
    "decision",
    "drift_avoided",
    "exact_size",
    "gauge_list",
    "grid_of",
    "judge",
    "marks",
    "nominal_error",
    "questions",
    "regions",
    "ruler_across",
    "ruler_of",
    "spoken",
    "table_steps",
]
