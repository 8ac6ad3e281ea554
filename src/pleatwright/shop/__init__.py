"""Everything kept: a packet's files and folder, the plan's record, the record of the checks."""

from pleatwright.shop.check_record import RECORD, CheckRecord, append_record, check_record
from pleatwright.shop.folder import check_folder, write_file, write_folder
from pleatwright.shop.found import Entered, found_form, read_found
from pleatwright.shop.packet_files import packet_files
from pleatwright.shop.plan_record import plan_json, plan_record, plan_schema

__all__ = [
    "RECORD",
    "CheckRecord",
    "Entered",
    "append_record",
    "check_folder",
    "check_record",
    "found_form",
    "packet_files",
    "plan_json",
    "plan_record",
    "plan_schema",
    "read_found",
    "write_file",
    "write_folder",
]
