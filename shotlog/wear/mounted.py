"""The reused inserts in the mould of a press: whose lives begin and end with a shot, and what each leaves behind."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace

from shotlog.entries import KINDS
from shotlog.life_text import life_told
from shotlog.records import InForce, LoggedShot, half_judged
from shotlog.settings import DesignSettings
from shotlog.wear.constants import FALSE_CALLS_PER_100
from shotlog.wear.life.carried import carry_on
from shotlog.wear.life.half import HalfState
from shotlog.wear.life.halves import laid, same_changes
from shotlog.wear.life.labels import label_end
from shotlog.wear.life.learning import adopt, judge_by_sisters
from shotlog.wear.life.leaving import how_it_ended, join_sisters, leave_set_up
from shotlog.wear.life.other_swap import begin_beside, is_asked, question_to
from shotlog.wear.life.pool import Pool
from shotlog.wear.life.swap_odds import Carried
from shotlog.wear.life.taken_out import come_back, taken_out
from shotlog.wear.verdict.swap_cost import call_rate

__all__ = ["Mounted"]

_PLAIN = DesignSettings()


@dataclass
class Mounted:
    """Lives by half, the pool that they join, and how many set-ups there were.

    `designs`: what is known of designs. `false_calls`: in 100 sound lives, as stated; None where they are not.
    """

    lives: dict[str, HalfState] = field(default_factory=dict)
    pool: Pool = field(default_factory=Pool)
    setup: int = 0
    designs: Mapping[str, DesignSettings] = field(default_factory=dict, metadata={"saved": False})
    false_calls: float | None = field(default=None, metadata={"saved": False})

    def settings(self, design: str) -> DesignSettings:
        """Return what is known of an insert design."""
        return self.designs.get(design, _PLAIN)

    def rate(self, design: str) -> float:
        """Return the false calls in 100 sound lives that are put up with on an insert of a design."""
        return self.false_calls or call_rate(FALSE_CALLS_PER_100, self.settings(design).cost)

    def run_again(self) -> None:
        """Run the filters again over the shots of the inserts in the mould: a state just taken up."""
        for life in self.lives.values():
            if life.stretch.prior is not None:
                adopt(life, life.stretch.prior, self.settings(life.held.design))

    def change(
        self, mounted: Mapping[str, InForce], shot: LoggedShot, new_setup: bool, new_scale: bool = False
    ) -> set[str]:
        """End the lives of what was taken out and begin those of what came in; return the halves that changed.

        `new_scale`: what was learnt from values before is in another scale, and goes for nothing from here on.
        """
        known = bool(self.lives)
        out = {h: life for h, life in self.lives.items() if h not in mounted or mounted[h].serial != life.held.serial}
        fresh = [half for half in mounted if half in out or half not in self.lives]
        stay = {half: life for half, life in self.lives.items() if half not in out}
        if not (out or fresh or new_setup):
            return set()
        carried = self._part(out, stay, shot) if out else {}
        if new_setup and known:
            for life in stay.values():
                leave_set_up(life, self.pool)
            if new_scale:
                self.pool.forget_values()
                for life in stay.values():
                    life.forget_values()
            self.setup += 1
            carried = {}
            for life in stay.values():
                self._set_up(life)
        begun = {half: self._begin(mounted[half], shot) for half in fresh}
        for half, change in carried.items():
            to = begun.get(half, begun.get(half_judged(dict.fromkeys(fresh, 0))))
            if to is not None and to.stretch.prior is not None:
                to.carry(change)
        # what a fresh half brings is what its sisters have shown, before anything open beside it widens that
        for life in stay.values():
            if out:
                life.mend(shot.shot - life.first + 1)
            life.meet(shot.shot - life.first + 1, *begun.values())
        for life in begun.values():
            begin_beside(life, stay.values(), self.settings(life.held.design))
        self.lives = {half: stay[half] if half in stay else begun[half] for half in mounted}
        return set(out) | set(fresh)

    def _begin(self, held: InForce, shot: LoggedShot) -> HalfState:
        pieces = any(one.single_use for one in shot.halves.values())
        labelled = list(self.pool.labelled.get(held.design, ()))
        life = HalfState(held, shot.shot, f"{held.design}|{self.setup}", pieces, labelled=labelled)
        mounted = [h for h in shot.halves.values() if not h.single_use]
        designs, settings = [held.design, *(h.design for h in mounted)], self.settings(held.design)
        found = judge_by_sisters(life, self.pool, designs, self.setup, settings)
        left = self.pool.put_back(held.design, held.serial) if held.serial else None
        made = self.pool.leave(held.serial) if held.serial else 0
        if left is not None:
            left = replace(left, made=max(left.made, made))
            come_back(life, left, [h.serial for h in mounted if h.serial != held.serial])
            if found:
                judge_by_sisters(life, self.pool, designs, self.setup, settings)
        elif made:
            life.go_on_from(made, (), None)
        return life

    def hear(self, press: str, entries: Iterable[tuple[str, str]]) -> None:
        """Take in what entries tell of lives that ended on other presses than `press`: not of an insert that is here,
        nor of one that is known to be printed from another material.
        """
        for kind, text in entries:
            told = life_told(text) if KINDS[kind].effect.life_told else None
            if told is None or told.where in ("", press):
                continue
            material = self.settings(told.design).resin_family
            here = not told.site and any(life.held.serial == told.serial for life in self.lives.values())
            if not here and material in ("", told.material or material):
                self.pool.hear(told)

    def _part(
        self, out: Mapping[str, HalfState], stay: Mapping[str, HalfState], shot: LoggedShot
    ) -> dict[str, Carried | None]:
        """End the lives of what comes `out`; what is open on what stays is put to the swap.

        Return by half what the insert that comes in for one is to be asked.
        """
        at_shot, reasons = shot.shot, dict(shot.removed)
        same, counted = same_changes(self.lives), laid(self.lives, self.pool)
        asks = {half: question_to(half, same, self.lives, out, self.pool, at_shot) for half in stay}
        there = [one.change for seen in same if any(is_asked(one, asks) for one in seen) for one in seen]
        carried = {}
        for half, life in out.items():
            mine = [one.change for one in counted[half]]
            made, serial = life.made + at_shot - life.first, life.held.serial
            ended = how_it_ended(life, made, reasons.get(serial, ""), mine)
            self.pool.end(life.held.design, ended)
            self.pool.prove(self.rate(life.held.design))
            if ended.found and not ended.failed:
                self.pool.clear([one for one in mine if one.group == "insert"])
            label_end(life, reasons.get(serial, ""), at_shot, self.pool)
            if serial:
                beside = [one.held.serial for one in self.lives.values() if one is not life]
                self.pool.take_out(serial, taken_out(life, mine, at_shot, beside))
            carried[half] = carry_on(life, at_shot, bool(stay), there)
            join_sisters(life, mine, (one for one in self.lives.values() if one is not life), self.pool)
        for half, ask in asks.items():
            if ask is not None:
                stay[half].ask(ask)
        return carried

    def _set_up(self, life: HalfState) -> None:
        """Start over under a new set-up: the shots before it are done with."""
        design = life.held.design
        life.begin_set_up(f"{design}|{self.setup}")
        judge_by_sisters(life, self.pool, [design], self.setup, self.settings(design))
