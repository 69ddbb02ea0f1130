"""`python -m axlewright` is the command line."""

from axlewright.cli.main import run

run()
