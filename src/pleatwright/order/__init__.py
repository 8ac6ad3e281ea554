"""The order file: read with every mistake named at once, and turned into a job."""

from pleatwright.order.job import Job, Paper

__all__ = ["Job", "Paper"]
