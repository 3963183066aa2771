"""The plan document: a plan as JSON and back, in one place for both directions.

Lengths are millimetres and money is the studio's currency, both as exact decimals; what the
keys mean stands beside the records of ``job`` and ``layout``.
"""

from sheetcut.document.read import UnreadablePlan, disagreements, read_plan
from sheetcut.document.rows import FORM
from sheetcut.document.write import job_bytes, plan_bytes

__all__ = ["FORM", "UnreadablePlan", "disagreements", "job_bytes", "plan_bytes", "read_plan"]
