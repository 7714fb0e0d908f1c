"""What a circuit's supply brings to the posts it lands on."""

from __future__ import annotations

from collections.abc import Mapping

from brute.given import Loom, stands_along, stands_off_loom
from brute.joints import End, Joints, Ready
from brute.parts import Start, Supply, TakeOff
from brute.setting import Setting, Wire
from brute.states import Amps
from brute.tally import Tally
from lugwright.scenario.console import Circuit, Post


class Supplies:
    """Where supplies come in, and what is there before the tree."""

    def __init__(self, setting: Setting, joints: Joints) -> None:
        self.setting = setting
        self.joints = joints

    def supply(self, circuit: Circuit, post: Post) -> Supply | None:
        """The supply at a landing post; None where it would need an extension and may not.

        A way's needs no reach and no extension. Rules R7, R11.
        """
        pigtail = circuit.pigtail
        if pigtail is None or pigtail.entry is None:
            return Supply(post, None, 0)
        path = self.setting.routes.from_entry(pigtail.entry, post.id)
        short = self.setting.shortfall_dmm(path.path_dmm, pigtail.reach_dmm)
        if short <= 0:
            return Supply(post, path, 0)
        if not self.setting.limits.extensions:
            return None
        return Supply(post, path, self.setting.cut_dmm(short))

    def start(
        self,
        circuit: Circuit,
        supply: Supply,
        take_offs: tuple[TakeOff, ...],
        extra: Mapping[str, Amps],
        extension: tuple[Wire, ...],
    ) -> Start | None:
        """What the supply and the taken-off jumpers bring to the posts before the tree."""
        ends: dict[str, tuple[End, ...]] = {}
        for off in take_offs:
            ends[off.stud] = (*ends.get(off.stud, ()), off.end)
        if circuit.pigtail is None:
            far = self.setting.posts[circuit.supplied_by]
            crimp = self.setting.limits.crimp_uohm if far.kind == "lead" else 0
            falls = tuple(crimp * each for each in self.setting.lead_ma(far)) if crimp else ()
            drop = {far.id: falls or self.setting.nothing}
            return Start(ends, {}, drop, extra, detail=(f"{circuit.name}: {supply.post.id}",))
        return self._start_pigtail(circuit, supply, ends, extra, extension)

    def _start_pigtail(
        self,
        circuit: Circuit,
        supply: Supply,
        ends: dict[str, tuple[End, ...]],
        extra: Mapping[str, Amps],
        extension: tuple[Wire, ...],
    ) -> Start | None:
        """What the pigtail and its extension bring to the landing post, beside ``ends``."""
        setting, post, pigtail = self.setting, supply.post, circuit.pigtail
        assert pigtail is not None
        flows = setting.total_ma(circuit)
        total, own, loom = max(flows), setting.wire(pigtail.wire), Loom()
        if supply.path is None:  # a sender's wire of which the file does not say where it comes in
            if not stands_off_loom(setting, own, total):
                return None
        elif not stands_along(setting, own, total, supply.path):
            return None
        else:
            loom.add(supply.path, 1, setting.most_conductors(own, total))
        alone = pigtail.stage != "bench" or setting.has_own_barrel(post)
        shares = "the pigtail alone" if alone else f"bench {circuit.name}"
        stage = pigtail.stage
        end = self.joints.end(shares, stage, own.area_um2, own.insulation_um, flows)
        uohm = setting.pigtail_uohm(pigtail)
        tally, ring, detail = Tally(), pigtail.ring, f"{circuit.name}: lands on {post.id}"
        for piece in extension:
            if ring is not None and ring.wires > 1:
                return None
            given_end = end
            end = self.joints.end(shares, stage, piece.area_um2, piece.insulation_um, flows)
            butt = self.joints.extension_butt(given_end, end, total)
            if butt is None or not stands_off_loom(setting, piece, total):
                return None
            assert supply.path is not None
            loom.add(supply.path, 0, setting.most_conductors(piece, total))
            length, ring = supply.extension_dmm, None
            uohm += setting.crimped_uohm(piece, length)
            tally += butt + Tally(length, 0, 0, setting.cut_micro(piece, length))
            detail += f", extension {piece.name}, {length}"
        ready: dict[str, tuple[Ready, ...]] = {}
        if ring is not None:
            made = Ready(ring.thread, ring.tongue_dmm, ring.angle_deg, stage, flows, ring.wires)
            ready[post.id] = (made,)
        else:
            ends[post.id] = (*ends.get(post.id, ()), end)
        drop = {post.id: tuple(uohm * each for each in flows)}
        return Start(ends, ready, drop, extra, tally, loom, (detail,))
