"""A task of the Windows Task Scheduler, and one for its backups. Pure: texts from facts.

The task is started with the computer and looked for every minute: while it runs a further start is ignored, and where
it ended it is started again. The schema is that of the Task Scheduler, version 1.2.
"""

import subprocess
from collections.abc import Sequence
from xml.etree import ElementTree

from shotlog.errors import UsageError
from shotlog.service.facts import PlacedFile, ServiceFacts

__all__ = ["ADMINISTRATORS", "MARK", "NAMESPACE", "USER", "files"]

MARK = "Written by shotlog service for"
NAMESPACE = "http://schemas.microsoft.com/windows/2004/02/mit/task"
USER = "S-1-5-19"
"""LOCAL SERVICE, by the number that is the same in every language: no password, and few rights."""
ADMINISTRATORS = "S-1-5-32-544"


def files(facts: ServiceFacts) -> list[PlacedFile]:
    """Return the files that `schtasks` makes the tasks from; they lie beside the configuration.

    Raises
    ------
    UsageError
        A path holds what the Task Scheduler takes for a variable, and has no way to write otherwise.
    """
    for path in facts.paths:
        if "%" in str(path) or "$(" in str(path):
            raise UsageError(
                f"CONFIG: {path} holds % or $(, which the Task Scheduler takes for a variable; allowed: a place without"
            )
    beside = facts.config.parent
    found = [PlacedFile(beside / f"{facts.name}.xml", _task(facts, facts.start, "PT1M"))]
    if facts.backup is not None:
        every = f"PT{round(facts.backup.every_h * 60)}M"
        text = _task(facts, ["backup", str(facts.config)], every, is_backup=True)
        found.append(PlacedFile(beside / f"{facts.name}-backup.xml", text))
    return found


def _task(facts: ServiceFacts, words: Sequence[str], every: str, is_backup: bool = False) -> str:
    task = ElementTree.Element("Task", {"version": "1.2", "xmlns": NAMESPACE})
    about = ElementTree.SubElement(task, "RegistrationInfo")
    does = "shows its presses" if facts.pages_only else "logs its presses"
    _put(about, Description=f"{MARK} {facts.config}: {'backups of its log' if is_backup else does}")
    triggers = ElementTree.SubElement(task, "Triggers")
    # with the computer, and from the moment it is registered: it need not be started anew for that
    for kind, delay in (("BootTrigger", "PT15M" if is_backup else ""), ("RegistrationTrigger", "PT1M")):
        trigger = ElementTree.SubElement(triggers, kind)
        _put(trigger, Enabled="true")
        repetition = ElementTree.SubElement(trigger, "Repetition")
        _put(repetition, Interval=every, StopAtDurationEnd="false")
        _put(trigger, **({"Delay": delay} if delay else {}))
    principal = ElementTree.SubElement(ElementTree.SubElement(task, "Principals"), "Principal", {"id": "Author"})
    _put(principal, UserId=USER, RunLevel="LeastPrivilege")
    settings = ElementTree.SubElement(task, "Settings")
    _put(
        settings,
        MultipleInstancesPolicy="IgnoreNew",
        DisallowStartIfOnBatteries="false",
        StopIfGoingOnBatteries="false",
        AllowHardTerminate="true",
        StartWhenAvailable="true",
        RunOnlyIfNetworkAvailable="false",
        AllowStartOnDemand="true",
        Enabled="true",
        Hidden="false",
        RunOnlyIfIdle="false",
        WakeToRun="false",
        ExecutionTimeLimit="PT6H" if is_backup else "PT0S",
        Priority="8" if is_backup else "5",
    )
    action = ElementTree.SubElement(ElementTree.SubElement(task, "Actions", {"Context": "Author"}), "Exec")
    program, *rest = facts.command(*words)
    _put(action, Command=program, Arguments=subprocess.list2cmdline(rest))
    ElementTree.indent(task)
    return f'<?xml version="1.0" encoding="UTF-16"?>\n{ElementTree.tostring(task, encoding="unicode")}\n'


def _put(element: ElementTree.Element, **texts: str) -> None:
    for name, text in texts.items():
        ElementTree.SubElement(element, name).text = text
