"""An edge with a few shots, a centre that has them, and the commands at both ends."""

import shutil
from pathlib import Path

from shotlog.cli.main import main
from shotlog.recorder.started import start_of
from shotlog.records import Insert, Mounting
from shotlog.settings import load
from shotlog.store.centre.entered import entered_at_centre
from shotlog.store.log.log import open_log
from tests.made_shots import START, shots

__all__ = ["Shop"]

EDGE = """
[log]
store = "sqlite:///edge.db"
[[press]]
name = "PRESS"
  [press.collector]
  kind = "recording"
[design.cap-r2]
  [design.cap-r2.tolerance]
  wall = { low = 1.1, high = 1.3 }
[design.cap-r2.cost]
part = 4.0
"""


class Shop:
    """An edge with 30 shots, and a centre that has them."""

    def __init__(self, folder: Path, centre: str, name: str = "hall-2", press: str = "P25") -> None:
        folder.mkdir(exist_ok=True)
        self._at(folder, centre, name)
        self.edge.write_text(EDGE.replace("PRESS", press), encoding="utf-8")
        with open_log(self.at_edge, read_only=False) as log:
            inserts = Mounting(press, "moving", Insert("B-1", "cap-r2"), 1, START)
            log.append([start_of(load(self.edge), START), inserts, *shots(1, 30, press)])

    def _at(self, folder: Path, centre: str, name: str) -> None:
        self.folder, self.centre, self.name = folder, centre, name
        self.edge, self.plant = folder / "edge.toml", folder / "plant.toml"
        self.plant.write_text(f'[log]\nstore = "{centre}?edge={name}"\n', encoding="utf-8")
        self.at_edge = f"sqlite:///{(folder / 'edge.db').as_posix()}"

    def copy(self, folder: Path, centre: str) -> "Shop":
        """Return this edge as it stands in another folder, with a centre that is a copy of this one's."""
        made = Shop.__new__(Shop)
        shutil.copytree(self.folder, folder, dirs_exist_ok=True)
        made._at(folder, centre, self.name)
        return made

    def ship(self) -> None:
        """Ship all there is, and take in what waits."""
        assert main(["ship", str(self.edge), "--to", self.centre, "--as", self.name, "--once"]) == 0

    def there(self, *words: str) -> int:
        """Run a command on the edge's log at the centre."""
        return main([words[0], str(self.plant), *words[1:]])

    def here(self, *words: str) -> int:
        """Run a command at the edge."""
        return main([words[0], str(self.edge), *words[1:]])

    def states(self) -> list[str]:
        """Return what became of what was entered at the centre."""
        with open_log(f"{self.centre}?edge={self.name}") as log:
            return [one.state for one in entered_at_centre(log)]
