"""Plays the printed steps on a virtual panel, one after another.

The panel knows only what was done so far. A step that needs what is not there, puts something
under a nut that is on, or comes in the wrong stage is a finding; the step is then taken as done,
so that one mistake is told once. What stands at the end must be the plan.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Literal

from lugwright.checker.book import Book
from lugwright.checker.facts import READY, STRAP, Facts, end_text
from lugwright.plans.schema import Stack, StackedLug, Step

STAGES = ("bench", "aboard", "key-on")
SLIPS_UNDER = ("captive spade", "plain spade")  # go on with the nut only loosened
LEFT_LOOSE, LEFT_BARE = "left loose", "left bare"  # what the bench is told to look at last
SETTING_OF = "setting of "

Nut = Literal["none", "loose", "snug"]


@dataclass
class Stud:
    """One stud as it stands: lugs from the base, washer, nut, boot."""

    lugs: list[str] = field(default_factory=list)
    washer: bool = False
    nut: Nut = "none"
    boot: bool = False
    lifted: set[str] = field(default_factory=set)


class Panel:
    """The virtual panel, and the steps it understands."""

    def __init__(self, facts: Facts, book: Book) -> None:
        self.facts, self.book = facts, book
        self.studs: dict[str, Stud] = defaultdict(Stud)
        self.set_on: set[str] = set()
        self.cut: set[str] = set()
        self.crimped: set[int] = set()
        self.pushed: dict[str, str] = {}
        self.capped: set[str] = set()
        self.ties: Counter[str] = Counter()
        self.run_down: Counter[tuple[str, str]] = Counter()
        self.cap_stage = {one.label: one.stage for one in facts.console.unused_pigtails}
        self.live = {cap.pigtail for cap in facts.plan.caps if cap.live}
        self._verbs: dict[str, Callable[[Step], None]] = {
            "cap": self._cap,
            "cut": self._cut,
            "crimp": self._crimp,
            "land": self._land,
            "wait": self._wait,
            "lift": self._lift,
            "push on": self._push_on,
            "washer": self._washer,
            "nut loose": self._nut_loose,
            "nut off": self._nut_off,
            "nut snug": self._nut_snug,
            "boot": self._boot,
            "tie": self._tie,
            "test": self._test,
        }

    def play(self, step: Step) -> None:
        """Do one step."""
        verb = self._verbs.get(step.verb)
        if verb is None:
            self._fault("names", step, f'there is no verb "{step.verb}"')
            return
        if step.stage == "key-on" and step.verb != "test":
            self._fault("step stage", step, "at key-on there is only testing")
        if step.verb != "cap" and self._open_live(step):
            waiting = ", ".join(sorted(self._open_live(step)))
            self._fault("step order", step, f"live pigtails are not capped yet: {waiting}")
            self.live = set()
        verb(step)

    def _open_live(self, step: Step) -> set[str]:
        """Live pigtails that are at hand by this stage and still bare."""
        aboard_too = step.stage != "bench"
        return {
            name
            for name in self.live - self.capped
            if aboard_too or self.cap_stage.get(name) != "aboard"
        }

    def _fault(self, rule: str, step: Step, message: str) -> None:
        self.book.complain(rule, f"step {step.number}, {step.verb} {step.target}", message)

    def _expect(self, holds: bool, rule: str, step: Step, message: str) -> bool:
        place = f"step {step.number}, {step.verb} {step.target}"
        return self.book.expect(holds, rule, place, message)

    def _in_stage(self, step: Step, stage: str, what: str) -> None:
        message = f"{what} belongs to the stage {stage}"
        self._expect(step.stage == stage, "step stage", step, message)

    def _cap(self, step: Step) -> None:
        own = {cap.pigtail: cap for cap in self.facts.plan.caps}
        cap = own.get(step.target)
        if self._expect(cap is not None, "names", step, "no such cap in the plan") and cap:
            self._in_stage(step, self.cap_stage.get(cap.pigtail, step.stage), "this pigtail")
            fine = cap.live or not self._open_live(step)
            self._expect(fine, "step order", step, "a live pigtail is still open")
            fine = not step.parts or step.parts[0] == cap.item
            self._expect(fine, "step order", step, f"the plan caps it with {cap.item}")
        again = step.target in self.capped
        self._expect(not again, "step order", step, "it is capped already")
        self.capped.add(step.target)

    def _cut(self, step: Step) -> None:
        wire = self.facts.jumpers.get(step.target)
        if self._expect(wire is not None, "names", step, "no such wire in the plan") and wire:
            self._in_stage(step, self.facts.stage_of(wire.label), "this wire")
        again = step.target in self.cut
        self._expect(not again, "step order", step, "it is cut already")
        self.cut.add(step.target)

    def _crimp(self, step: Step) -> None:
        number = _number(step.target)
        crimp = self.facts.crimps.get(number)
        if crimp is None:
            self._fault("names", step, "no such crimp in the plan")
            return
        ends = [end for half in crimp.barrels for end in half]
        names = Counter(end_text(end) for end in ends)
        fine = Counter(self._full_end(part) for part in step.parts) == names
        message = f"these are not the wire ends of crimp {number}: {', '.join(step.parts)}"
        self._expect(fine, "step order", step, message)
        for wire in sorted({end.wire for end in ends}):
            fine = wire not in self.facts.jumpers or wire in self.cut
            self._expect(fine, "step order", step, f"{wire} is not cut yet")
        late = any(self.facts.stage_of(end.wire) == "aboard" for end in ends)
        self._in_stage(step, "aboard" if late else "bench", "this crimp")
        again = number in self.crimped
        self._expect(not again, "step order", step, "it is crimped already")
        self.crimped.add(number)

    def _full_end(self, part: str) -> str:
        """A given wire may go without its end: it has only the one at the panel."""
        return f"{part}-a" if part in self.facts.panel_wires else part

    def _land(self, step: Step) -> None:
        """A lug goes on to stay; one that waited and was lifted off goes back in its turn."""
        found = self._lug_to_put_on(step)
        if found is None:
            return
        stack, index, name = found
        stud, early = self.studs[step.target], stack.lugs[index].stage == "bench"
        waits = name in waiting_names(stack)
        if waits:
            message = f"{name} lies above what comes aboard: it waits, labelled, until then"
            self._expect(step.stage != "bench", "step stage", step, message)
            message = f"{name} did not wait on this stud"
            self._expect(name in stud.lifted, "step order", step, message)
        else:
            self._in_stage(step, "bench" if early else "aboard", name)
        self._put_on(step, stack, index, name)
        stud.lifted.discard(name)

    def _wait(self, step: Step) -> None:
        """A bench lug that lies above an aboard lug is labelled and put on, to wait loose."""
        found = self._lug_to_put_on(step)
        if found is None:
            return
        stack, index, name = found
        message = f"nothing that comes aboard lies under {name}: it is landed"
        waits = name in waiting_names(stack)
        self._expect(waits, "step order", step, message)
        self._in_stage(step, "bench", name)
        self._put_on(step, stack, index, name)

    def _lift(self, step: Step) -> None:
        """Lugs that waited come off again, from the top, with the nut off."""
        stack, stud = self._stack(step), self.studs[step.target]
        self._in_stage(step, "aboard", "lifting what waited")
        message = f"the nut is on ({stud.nut})"
        self._expect(stud.nut == "none", "step nut", step, message)
        allowed = waiting_names(stack) if stack else []
        for name in step.parts:
            self._expect(name in allowed, "step order", step, f"{name} is not one that waited")
            on_top = bool(stud.lugs) and stud.lugs[-1] == name
            message = f"{name} is not on top; on the stud are {stud.lugs}"
            self._expect(on_top, "step order", step, message)
            if name in stud.lugs:
                stud.lugs.remove(name)
                stud.lifted.add(name)

    def _lug_to_put_on(self, step: Step) -> tuple[Stack, int, str] | None:
        """The stack, the lug's place in it (0 at the base) and its name, where all three exist."""
        name = step.parts[0] if step.parts else ""
        stack, stud = self.facts.stacks.get(step.target), self.studs[step.target]
        if stack is None:
            self._fault("names", step, "no such stack in the plan")
            return None
        self._under_nut(step, stud, name)
        if not name.startswith(READY):
            made = _number(name) in self.crimped
            self._expect(made, "step order", step, f"crimp {name} is not made yet")
        names = [lug_name(lug) for lug in stack.lugs]
        if not self._expect(name in names, "names", step, f"{name} is not of this stack"):
            return None
        self._expect(name not in stud.lugs, "step order", step, f"{name} is on already")
        return stack, names.index(name), name

    def _put_on(self, step: Step, stack: Stack, index: int, name: str) -> None:
        """On top of all that lies under it; a spade slips in below what waits."""
        stud, names = self.studs[step.target], [lug_name(lug) for lug in stack.lugs]
        below = names[:index]
        if step.stage == "bench":
            below = [lug_name(lug) for lug in stack.lugs[:index] if lug.stage == "bench"]
        on_top = stud.lugs[len(below) :]
        slipped_in = stud.nut == "loose" and set(on_top) <= set(waiting_names(stack))
        fine = stud.lugs[: len(below)] == below and (not on_top or slipped_in)
        message = f"{name} is number {index + 1} from the base; on the stud are {stud.lugs}"
        self._expect(fine, "step order", step, message)
        stud.lugs.insert(len(below) if fine else len(stud.lugs), name)

    def _under_nut(self, step: Step, stud: Stud, name: str) -> None:
        self._expect(not stud.boot, "step nut", step, "the boot is on")
        crimp = self.facts.crimps.get(_number(name))
        row = self.facts.fittings.get(crimp.item) if crimp else None
        slips = stud.nut == "loose" and row is not None and row.kind in SLIPS_UNDER
        message = f"the nut is on ({stud.nut}); {name} cannot go under it"
        self._expect(stud.nut == "none" or slips, "step nut", step, message)
        early = stud.washer and stud.nut == "none"
        self._expect(not early, "step nut", step, f"the washer is on; {name} goes under it")

    def _push_on(self, step: Step) -> None:
        name = step.parts[0] if step.parts else ""
        crimp = self.facts.crimps.get(_number(name))
        fine = crimp is not None and crimp.joint == step.target
        if self._expect(fine, "names", step, f"crimp {name} is not of this tab") and crimp:
            made = crimp.number in self.crimped
            self._expect(made, "step order", step, f"crimp {name} is not made yet")
            late = any(
                self.facts.stage_of(end.wire) == "aboard" for half in crimp.barrels for end in half
            )
            self._in_stage(step, "aboard" if late else "bench", f"crimp {name}")
        free = step.target not in self.pushed
        self._expect(free, "step order", step, "the tab is taken already")
        self.pushed[step.target] = name

    def _washer(self, step: Step) -> None:
        stud = self.studs[step.target]
        self._expect(stud.nut == "none", "step nut", step, "the nut is on already")
        self._expect(not stud.washer, "step nut", step, "a washer is on already")
        wanted = self.facts.limits.lock_washer
        self._expect(wanted, "step order", step, "no lock washers are used")
        stud.washer = True

    def _stack(self, step: Step) -> Stack | None:
        stack = self.facts.stacks.get(step.target)
        self._expect(stack is not None, "names", step, "no such stack in the plan")
        return stack

    def _nut_on(self, step: Step, stud: Stud) -> None:
        missing = self.facts.limits.lock_washer and not stud.washer
        self._expect(not missing, "step nut", step, "the washer is missing")

    def _nut_loose(self, step: Step) -> None:
        stack, stud = self._stack(step), self.studs[step.target]
        self._expect(stud.nut == "none", "step nut", step, f"the nut is on already ({stud.nut})")
        self._nut_on(step, stud)
        if stack and step.stage == "bench":
            message = "nothing comes aboard here, its nut is to be run down"
            self._expect(stack.nut_at_bench == "loose", "step nut", step, message)
        stud.nut = "loose"

    def _nut_off(self, step: Step) -> None:
        stud = self.studs[step.target]
        message = f"the nut is {'not on' if stud.nut == 'none' else 'snug'}"
        self._expect(stud.nut == "loose", "step nut", step, message)
        stud.nut, stud.washer = "none", False

    def _nut_snug(self, step: Step) -> None:
        stack, stud = self._stack(step), self.studs[step.target]
        self._nut_on(step, stud)
        self.run_down[(step.target, step.stage)] += 1
        once = self.run_down[(step.target, step.stage)] == 1 and stud.nut != "snug"
        self._expect(once, "step nut", step, "this nut is run down already")
        self._expect(not stud.boot, "step nut", step, "the boot is on")
        if stack:
            if step.stage == "bench":
                message = "something comes aboard here, its nut is to stay loose"
                self._expect(stack.nut_at_bench == "snug", "step nut", step, message)
            missing = [lug_name(lug) for lug in stack.lugs if lug_name(lug) not in stud.lugs]
            message = f"not all lugs are on yet: {', '.join(missing)}"
            self._expect(not missing, "step order", step, message)
        stud.nut = "snug"

    def _boot(self, step: Step) -> None:
        stud, post = self.studs[step.target], self.facts.posts.get(step.target)
        live = post is not None and post.id in self.facts.live_posts
        self._expect(live, "step order", step, "the stud is not live, it gets no boot")
        ready = stud.nut == "snug" or step.target in self.facts.bare_live_studs
        self._expect(ready, "step order", step, "its nut is not snug yet")
        stud.boot = True

    def _tie(self, step: Step) -> None:
        count = _number(step.parts[0]) if step.parts else 1
        self.ties[step.target] += count

    def _setting(self, step: Step) -> None:
        """What is set on an instrument, while nothing is on it yet: its dial is still in hand."""
        name = step.target.removeprefix(SETTING_OF)
        said = self.facts.settings_of.get(name, "")
        fine = bool(said) and said.rstrip(".") in step.text
        self._expect(fine, "step order", step, f"the file has {said or 'nothing'} set on {name}")
        on = [post for post, stud in self.studs.items() if stud.lugs and self._is_of(post, name)]
        self._expect(not on, "step order", step, f"something is on {', '.join(on)} already")
        self._in_stage(step, "bench", "a setting")
        self.set_on.add(name)

    def _is_of(self, post: str, instrument: str) -> bool:
        found = self.facts.posts.get(post)
        return found is not None and found.instrument == instrument

    def _test(self, step: Step) -> None:
        if step.target.startswith(SETTING_OF):
            self._setting(step)
        if step.target == LEFT_LOOSE:
            for post in step.parts:
                loose = self.studs[post].nut != "snug"
                self._expect(loose, "step nut", step, f"the nut on {post} is snug already")
        if step.target == LEFT_BARE:
            for post in step.parts:
                bare = post not in self.facts.stacks and not self.facts.crimps_at.get(post)
                self._expect(bare, "step order", step, f"the plan lands something on {post}")
        if step.stage == "key-on":
            for post in sorted(self.facts.stacks):
                fine = self.studs[post].nut == "snug"
                message = f"the nut on {post} is not snug at key-on"
                if not self._expect(fine, "step nut", step, message):
                    self.studs[post].nut = "snug"

    def end_of_bench(self) -> None:
        """Every stud with bench lugs has its nut on, as the plan leaves it."""
        for post, stack in sorted(self.facts.stacks.items()):
            stud = self.studs[post]
            if any(lug.stage == "bench" for lug in stack.lugs):
                message = f"at the end of the bench the nut is {stud.nut}, not {stack.nut_at_bench}"
                fine = stud.nut == stack.nut_at_bench
                if self.book.expect(fine, "step nut", post, message):
                    early = (lug_name(lug) for lug in stack.lugs if lug.stage == "bench")
                    off = [name for name in early if name not in stud.lugs]
                    message = f"at the end of the bench these are not on yet: {', '.join(off)}"
                    self.book.expect(not off, "step order", post, message)

    def compare(self) -> None:
        """What stands at the end is the plan."""
        facts, book = self.facts, self.book
        for post, stack in sorted(facts.stacks.items()):
            stud, names = self.studs[post], [lug_name(lug) for lug in stack.lugs]
            message = f"in the end {stud.lugs} are on the stud, the plan has {names}"
            book.expect(stud.lugs == names, "step end", post, message)
            book.expect(stud.nut == "snug", "step nut", post, f"in the end the nut is {stud.nut}")
            message = "the live stud has no boot in the end"
            book.expect(stud.boot or not stack.boot, "step end", post, message)
        self._all("step end", "set", self.set_on, set(facts.settings_of))
        for post in facts.bare_live_studs:
            message = "the bare live stud has no boot in the end"
            book.expect(self.studs[post].boot, "step end", post, message)
        self._all("step end", "cut", self.cut, set(facts.jumpers))
        self._all("step end", "crimped", {str(one) for one in self.crimped},
                  {str(one) for one in facts.crimps})  # fmt: skip
        tabs: set[str] = {
            crimp.joint
            for crimp in facts.plan.crimps
            if crimp.joint in facts.posts and facts.posts[crimp.joint].kind == "tab"
        }
        self._all("step end", "pushed on", set(self.pushed), tabs)
        self._all("step end", "capped", self.capped, {cap.pigtail for cap in facts.plan.caps})
        planned = Counter[str]()
        for tie in facts.plan.ties:
            planned[tie.where] += tie.count
        book.same(sorted_text(self.ties), sorted_text(planned), "step end", "ties", "ties set")

    def _all(self, rule: str, done: str, have: set[str], want: set[str]) -> None:
        for name in sorted(want - have):
            self.book.complain(rule, name, f"no step says that it is {done}")


def waiting_names(stack: Stack) -> list[str]:
    """The bench lugs that lie above one that comes aboard, from the base."""
    found: list[str] = []
    under = False
    for lug in stack.lugs:
        under = under or lug.stage == "aboard"
        if under and lug.stage == "bench":
            found.append(lug_name(lug))
    return found


def lug_name(lug: StackedLug) -> str:
    """A lug as the steps name it."""
    return str(lug.crimp) if lug.crimp else READY + lug.ready


def sorted_text(counts: Counter[str]) -> str:
    """Counts in the order of their names."""
    return ", ".join(f"{name} {count}" for name, count in sorted(counts.items()) if count)


def _number(text: str) -> int:
    return int(text) if text.isascii() and text.isdigit() and len(text) < 10 else 0


def check_steps(facts: Facts, book: Book) -> None:
    """Play all steps; stages and numbers run on."""
    steps = facts.plan.steps
    numbers = [step.number for step in steps]
    message = f"steps are not numbered 1 to {len(steps)}"
    book.expect(numbers == list(range(1, len(steps) + 1)), "step order", "steps", message)
    panel = Panel(facts, book)
    stage = 0
    for step in steps:
        now = STAGES.index(step.stage)
        message = f"a step at the stage {step.stage} comes after one of {STAGES[stage]}"
        place = f"step {step.number}, {step.verb} {step.target}"
        book.expect(now >= stage, "step stage", place, message)
        if stage == 0 and now > 0:
            panel.end_of_bench()
        stage = max(stage, now)
        panel.play(step)
    if stage == 0:
        panel.end_of_bench()
    panel.compare()
    _straps_at_once(facts, book)


def _straps_at_once(facts: Facts, book: Book) -> None:
    """A strap goes on all its studs one right after the other: stiff metal cannot wait half on."""
    for strap in facts.console.straps:
        part = READY + STRAP + strap.name
        turns = [s.number for s in facts.plan.steps if s.verb == "land" and part in s.parts]
        turns = [number for number in turns if facts.plan.steps[number - 1].stage == "bench"]
        at_once = turns == list(range(turns[0], turns[0] + len(turns))) if turns else True
        message = f"the lugs of {STRAP}{strap.name} go on apart, in steps {turns}"
        book.expect(at_once, "step order", f"{STRAP}{strap.name}", message)
