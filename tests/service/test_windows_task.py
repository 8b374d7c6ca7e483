"""The tasks of Windows, held against the elements that its schema wants, and their order where it wants one."""

import shlex
import subprocess
from pathlib import Path
from xml.etree import ElementTree

import pytest

from shotlog.errors import UsageError
from shotlog.service.explained import for_windows
from shotlog.service.facts import ServiceFacts, facts_of
from shotlog.service.windows import NAMESPACE, files
from shotlog.settings import load
from tests.service.test_systemd_unit import CONFIG

TRIGGER = ["Enabled", "StartBoundary", "EndBoundary", "Repetition", "ExecutionTimeLimit", "Delay"]
"""Elements of a trigger, in the order of `triggerBaseType` of the published schema; what a kind adds comes last."""
SETTINGS = {
    "MultipleInstancesPolicy", "DisallowStartIfOnBatteries", "StopIfGoingOnBatteries", "AllowHardTerminate",
    "StartWhenAvailable", "RunOnlyIfNetworkAvailable", "AllowStartOnDemand", "Enabled", "Hidden", "RunOnlyIfIdle",
    "WakeToRun", "ExecutionTimeLimit", "Priority", "RestartOnFailure", "IdleSettings",
}  # fmt: skip


def facts(folder: Path) -> ServiceFacts:
    folder.mkdir(exist_ok=True)
    (folder / "trial.toml").write_text(CONFIG, encoding="utf-8")
    return facts_of(load(folder / "trial.toml"), None, "shotlog", False, "dialout")


def read(text: str) -> ElementTree.Element:
    return ElementTree.fromstring(text.encode("utf-16"))  # noqa: S314  (written here)


def below(element: ElementTree.Element, path: str) -> ElementTree.Element:
    found = element.find("/".join(f"{{{NAMESPACE}}}{name}" for name in path.split("/")))
    assert found is not None, path
    return found


def names(element: ElementTree.Element) -> list[str]:
    return [child.tag.removeprefix(f"{{{NAMESPACE}}}") for child in element]


def test_of_a_centre_the_task_serves_the_pages(tmp_path: Path) -> None:
    (tmp_path / "plant.toml").write_text('[log]\nstore = "postgresql+psycopg://me@db/plant"\n', encoding="utf-8")
    found = facts_of(load(tmp_path / "plant.toml"), None, "shotlog", False, "dialout")
    (one,) = files(found)
    assert below(read(one.text), "Actions/Exec/Arguments").text == subprocess.list2cmdline(
        found.command("dashboard", str(tmp_path / "plant.toml"))[1:]
    )
    told = dict(for_windows(found, [one], True))
    assert (
        f'    icacls "{tmp_path / "plant.toml"}" /grant "*S-1-5-19:R"'
        in told["Steps, in a terminal of an administrator"]
    )
    assert not any(
        "schtasks /create" in line and "backup" in line for line in told["Steps, in a terminal of an administrator"]
    )


def test_a_task_has_what_the_schema_wants(tmp_path: Path) -> None:
    for one in files(facts(tmp_path / "hall & <two>")):
        task = read(one.text)
        assert (task.tag, task.get("version")) == (f"{{{NAMESPACE}}}Task", "1.2")
        assert set(names(task)) == {"RegistrationInfo", "Triggers", "Principals", "Settings", "Actions"}
        assert below(task, "Actions").get("Context") == below(task, "Principals/Principal").get("id") == "Author"
        assert set(names(below(task, "Settings"))) <= SETTINGS
        assert len(names(below(task, "Settings"))) == len(set(names(below(task, "Settings"))))
        for trigger in below(task, "Triggers"):
            assert sorted(names(trigger), key=TRIGGER.index) == names(trigger)
        assert below(task, "Principals/Principal/UserId").text == "S-1-5-19"


def test_it_runs_without_a_time_limit_and_is_looked_for_every_minute(tmp_path: Path) -> None:
    task = read(files(facts(tmp_path / "trial"))[0].text)
    assert below(task, "Settings/ExecutionTimeLimit").text == "PT0S"
    assert below(task, "Settings/MultipleInstancesPolicy").text == "IgnoreNew"
    assert below(task, "Triggers/BootTrigger/Repetition/Interval").text == "PT1M"
    for name in ("DisallowStartIfOnBatteries", "StopIfGoingOnBatteries", "RunOnlyIfNetworkAvailable"):
        assert below(task, f"Settings/{name}").text == "false"


def test_backups_have_a_task_of_their_own(tmp_path: Path) -> None:
    found = facts(tmp_path / "trial")
    backup = files(found)[1]
    task = read(backup.text)
    assert backup.path == tmp_path / "trial" / "shotlog-trial-backup.xml"
    assert below(task, "Triggers/BootTrigger/Repetition/Interval").text == "PT480M"
    assert (below(task, "Actions/Exec/Arguments").text or "").startswith("-P -m shotlog backup ")


def test_a_blank_in_a_path_is_no_end_of_a_word(tmp_path: Path) -> None:
    found = facts(tmp_path / "cap trial & more")
    config = str(tmp_path / "cap trial & more" / "trial.toml")
    task = read(files(found)[0].text)
    assert below(task, "Actions/Exec/Command").text == str(found.python)
    line = below(task, "Actions/Exec/Arguments").text or ""
    assert line == subprocess.list2cmdline(found.command("run", config)[1:])
    assert shlex.split(line, posix=True) == found.command("run", config)[1:]


@pytest.mark.parametrize("folder", ["50 % trial", "$(Arg0)"])
def test_what_it_would_take_for_a_variable_is_refused(tmp_path: Path, folder: str) -> None:
    with pytest.raises(UsageError, match=r"holds % or \$\(, which the Task Scheduler takes for a variable"):
        files(facts(tmp_path / folder))
