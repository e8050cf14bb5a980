"""Battery checks on the bench: label, health from a log, handling and shipping, two records side by side."""

from midframe.battery.compare import (
    BatteryComparison,
    BatteryFigure,
    BatteryRow,
    battery_figures,
    compare_batteries,
)
from midframe.battery.converter import FullWait, Supply, full_wait, meter_health, supply
from midframe.battery.counting import Counted, Run, count, runs
from midframe.battery.handling_rules import Advice, Handling, handling, handling_of
from midframe.battery.health import Estimate, Health, cell_health, state_of_health, window_capacity
from midframe.battery.kept import (
    in_short,
    kept_of,
    measurements_of,
    newest,
    rated_figures,
    stands,
    told,
    with_kept,
)
from midframe.battery.label import Figure, Label, figures_in, label_of, labels_of, typed_label
from midframe.battery.label_check import LabelFinding, LabelReport, Meaning, check_label
from midframe.battery.log_mapping import ColumnUse, LogMapping, propose, recognised
from midframe.battery.log_result import Asked, Columns, columns_of, log_of, measure
from midframe.battery.log_series import Log, plain_log, series
from midframe.battery.log_table import LogTable, read_table
from midframe.battery.mapping_file import changed, chosen, confirmed, mapping_text, read_mapping
from midframe.battery.reader import ReadLabel, read_photo
from midframe.battery.resistance import StepResistance, step_resistances
from midframe.battery.said_by_device import beside_log, beside_promise, device_says
from midframe.battery.typed import Typed, fields_of, fields_read, kept_specs, typed_figures
from midframe.battery.window import Window, given_window

__all__ = [
    "Advice",
    "Asked",
    "BatteryComparison",
    "BatteryFigure",
    "BatteryRow",
    "ColumnUse",
    "Columns",
    "Counted",
    "Estimate",
    "Figure",
    "FullWait",
    "Handling",
    "Health",
    "Label",
    "LabelFinding",
    "LabelReport",
    "Log",
    "LogMapping",
    "LogTable",
    "Meaning",
    "ReadLabel",
    "Run",
    "StepResistance",
    "Supply",
    "Typed",
    "Window",
    "battery_figures",
    "beside_log",
    "beside_promise",
    "cell_health",
    "changed",
    "check_label",
    "chosen",
    "columns_of",
    "compare_batteries",
    "confirmed",
    "count",
    "device_says",
    "fields_of",
    "fields_read",
    "figures_in",
    "full_wait",
    "given_window",
    "handling",
    "handling_of",
    "in_short",
    "kept_of",
    "kept_specs",
    "label_of",
    "labels_of",
    "log_of",
    "mapping_text",
    "measure",
    "measurements_of",
    "meter_health",
    "newest",
    "plain_log",
    "propose",
    "rated_figures",
    "read_mapping",
    "read_photo",
    "read_table",
    "recognised",
    "runs",
    "series",
    "stands",
    "state_of_health",
    "step_resistances",
    "supply",
    "told",
    "typed_figures",
    "typed_label",
    "window_capacity",
    "with_kept",
]
