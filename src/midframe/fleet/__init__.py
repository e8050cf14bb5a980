"""Many records at once: one function a record, run side by side, kept as it goes, joined into tables."""

from midframe.fleet.cells import csv_text
from midframe.fleet.engines import Cluster, Engine, Local
from midframe.fleet.run import Failed, Finished, Job, Outcome, run
from midframe.fleet.tables import TABLES, join, write_csv, write_parquet

__all__ = [
    "TABLES",
    "Cluster",
    "Engine",
    "Failed",
    "Finished",
    "Job",
    "Local",
    "Outcome",
    "csv_text",
    "join",
    "run",
    "write_csv",
    "write_parquet",
]
