"""What may go wrong between a press that gives its shots as files (EUROMAP 63) and a logger, by kind."""

from simulators.disturb import COUNTER_FAULTS

__all__ = ["FILE_FAULTS", "SESSION_ERRORS", "TASK_ERRORS"]

SESSION_ERRORS = {"busy": (5, "busy"), "offline": (6, "host computer interface offline")}
"""Errors of class 05, which the answer to a request gives: number and text."""

TASK_ERRORS = {
    "too-many-jobs": ("JOB", 3, "too many jobs"),
    "cannot-create": ("REPORT", 4, "cannot create file"),
    "too-many-reports": ("REPORT", 7, "too many reports"),
}
"""Errors of class 06, which the log of a job gives: the command, number and text."""

FILE_FAULTS = {
    "away": "the share is gone; the press goes on writing to its own disk",
    "restart": "the press is off, and has forgotten its jobs afterwards",
    "job-lost": "the jobs are gone, the press answers as before",
    "silent": "requests are not answered",
    "half": "a line stops half-way for good, the next follows without a line end",
    "split": "a line comes in two parts, `seconds` apart",
    "cut": "a write stops in the middle; where the whole file is uploaded, the next upload is whole again",
    "rewritten": "the file is truncated and written again in two pieces, `seconds` apart, before the line",
    "older": "the file is put back to what half of it was, before the line",
    "emptied": "the file is emptied before the line, the press notices nothing",
    "deleted": "the file is deleted before the line and begun anew",
    "header": "the header comes again before the line",
    "lost": "the line is not written",
    "duplicate": "the line is written twice",
    "unreadable": "`?` in cell `code` (from 0)",
    "text": "ERR in cell `code`",
    "empty": "nothing in cell `code`",
    "huge": "a number no press reaches in cell `code`",
    "short": "the line lacks its last cell",
    "long": "the line has a cell too many",
    "comma": "decimal commas",
    "garbage": "noise before the line",
    "nul": "NUL bytes instead of the line",
    "clock": "the press's clock is `seconds` wrong",
    **{kind: f"every request is answered: error {number}, {text}" for kind, (number, text) in SESSION_ERRORS.items()},
    **{kind: f"{word} is answered: error {number}, {text}" for kind, (word, number, text) in TASK_ERRORS.items()},
    **COUNTER_FAULTS,
}
"""What may go wrong with files, by kind; a fault at shot 0 is there from the start."""
