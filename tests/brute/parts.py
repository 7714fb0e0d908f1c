"""The parts of one way to wire a circuit: jumpers, what a supply brings, what comes of it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from brute.given import Loom
from brute.joints import End, Ready
from brute.judged import Drops
from brute.leads import Tips
from brute.states import Amps
from brute.tally import Tally
from lugwright.routes.schema import Path
from lugwright.scenario.console import Post


@dataclass(frozen=True)
class Piece:
    """One jumper: joint ids ``a`` (supply side) and ``b``, and the nodes they belong to."""

    a: str
    b: str
    a_node: str
    b_node: str
    path: Path
    length_dmm: int


@dataclass(frozen=True, order=True)
class TakeOff:
    """A jumper of a taken circuit that starts on a stud of the circuit it is taken from."""

    stud: str
    end: End
    current_ma: Amps


@dataclass
class Wired:
    """One way to wire a circuit.

    ``drop_nv`` is the drop from the circuit's supply to each metal: for a taken circuit from
    the stud its branch is taken off at (``source`` of each node), else from its pigtail's
    source, or from inside the device at its far post.
    """

    tally: Tally
    drop_nv: Drops
    source: Mapping[str, str]
    take_offs: tuple[TakeOff, ...]
    loom: Loom
    detail: tuple[str, ...]


@dataclass(frozen=True)
class Supply:
    """A circuit's supply at its landing post.

    ``path`` is a pigtail's (None: a way supplies it), ``extension_dmm`` 0: it reaches by itself.
    ``number`` tells the pigtails of a circuit apart.
    """

    post: Post
    path: Path | None
    extension_dmm: int
    number: int = 0


@dataclass
class Start:
    """What is there before the tree: ends and rings on posts, the drop at the post it starts from.

    ``tips`` are the chosen ends of leads with a length. ``extra`` is what jumpers of taken circuits
    draw from posts, and less than nought what further pigtails bring there; ``others_nv`` the drop
    at those where they are alone.
    """

    ends: dict[str, tuple[End, ...]]
    ready: dict[str, tuple[Ready, ...]]
    drop_nv: dict[str, tuple[int, ...]]
    extra: Mapping[str, Amps]
    tips: Tips = field(default_factory=dict)
    others_nv: tuple[tuple[int, str, tuple[int, ...]], ...] = ()
    tally: Tally = field(default_factory=Tally)
    loom: Loom = field(default_factory=Loom)
    detail: tuple[str, ...] = ()

    def add_end(self, post: str, end: End) -> None:
        """One more wire end on a post."""
        self.ends[post] = (*self.ends.get(post, ()), end)

    def finish(self, wired: Wired) -> Wired:
        """The tree together with what was there before it."""
        loom = wired.loom
        loom.used.update(self.loom.used)
        for leg, most in self.loom.allowed.items():
            loom.allowed[leg] = min(most, loom.allowed.get(leg, most))
        return Wired(
            self.tally + wired.tally,
            wired.drop_nv,
            wired.source,
            wired.take_offs,
            loom,
            self.detail + wired.detail,
        )
