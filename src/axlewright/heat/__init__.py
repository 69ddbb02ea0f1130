"""The thermal state of the assembly."""
