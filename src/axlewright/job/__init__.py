"""What the shop knows: the job file, read, checked and written."""

from axlewright.job.demo_jobs import demo_names, demo_text
from axlewright.job.reading import parse_job, read_job
from axlewright.job.schema import Job, job_schema
from axlewright.job.writing import write_job

__all__ = ["Job", "demo_names", "demo_text", "job_schema", "parse_job", "read_job", "write_job"]
