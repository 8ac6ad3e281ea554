"""Everything kept: a packet's files and folder, the plan's record."""

from pleatwright.shop.folder import write_file, write_folder
from pleatwright.shop.packet_files import packet_files
from pleatwright.shop.plan_record import plan_json, plan_record, plan_schema

__all__ = ["packet_files", "plan_json", "plan_record", "plan_schema", "write_file", "write_folder"]
