"""What a circuit's supply brings to the posts it lands on."""

from __future__ import annotations

from collections.abc import Sequence

from brute.given import own_extension, stands_along, stands_off_loom
from brute.joints import Joints, Ready
from brute.leads import Tips
from brute.parts import Start, Supply, TakeOff
from brute.setting import Setting, Wire
from brute.states import Amps, added, minus
from brute.tally import Tally
from lugwright.scenario.console import Circuit, Post


class Supplies:
    """Where supplies come in, and what is there before the tree."""

    def __init__(self, setting: Setting, joints: Joints) -> None:
        self.setting = setting
        self.joints = joints

    def supply(self, circuit: Circuit, post: Post, tips: Tips, number: int = 0) -> Supply | None:
        """The supply at a landing post; None where it would need an extension and may not.

        ``number`` is that of the pigtail, where a circuit has several. A way's needs no reach and
        no extension. Rules R7, R11.
        """
        place = tips.get(post.id, post.id)
        if not place:
            return None
        pigtails = self.setting.pigtails(circuit)
        pigtail = pigtails[number] if pigtails else None
        if pigtail is None or pigtail.entry is None:
            return Supply(post, None, 0, number)
        path = self.setting.routes.from_entry(pigtail.entry, place)
        short = self.setting.shortfall_dmm(path.path_dmm, pigtail.reach_dmm)
        if short <= 0:
            return Supply(post, path, 0, number)
        if not self.setting.limits.extensions:
            return None
        return Supply(post, path, self.setting.cut_dmm(short), number)

    def keeps_size(self, circuit: Circuit, supply: Supply) -> bool:
        """Whether what comes in there is a sender's own wire in the boat. Rule R11."""
        pigtails = self.setting.pigtails(circuit)
        return bool(pigtails) and pigtails[supply.number].of_boat

    def drawn(
        self, circuit: Circuit, supplies: Sequence[Supply], take_offs: Sequence[TakeOff]
    ) -> dict[str, Amps]:
        """What taken-off jumpers draw from posts, less what further pigtails bring there."""
        extra: dict[str, Amps] = {}
        for off in take_offs:
            extra[off.stud] = added(extra.get(off.stud, self.setting.nothing), off.current_ma)
        for each in supplies[1:]:
            brought = minus(self.setting.supplied_ma(circuit, each.number))
            extra[each.post.id] = added(extra.get(each.post.id, self.setting.nothing), brought)
        return extra

    def start(
        self,
        circuit: Circuit,
        supplies: Sequence[Supply],
        take_offs: Sequence[TakeOff],
        extension: Sequence[Wire],
        tips: Tips,
    ) -> Start | None:
        """What the supplies and the taken-off jumpers bring to the posts before the tree.

        ``extension`` has a wire for every pigtail that is lengthened, in order; a boat's wire is
        lengthened in its own size.
        """
        start = Start({}, {}, {}, self.drawn(circuit, supplies, take_offs), tips)
        for off in take_offs:
            start.add_end(off.stud, off.end)
        if not self.setting.pigtails(circuit):
            far = self.setting.posts[circuit.supplied_by]
            crimp = self.setting.limits.crimp_uohm if far.kind == "lead" else 0
            falls = tuple(crimp * each for each in self.setting.lead_ma(far)) if crimp else ()
            start.drop_nv[far.id] = falls or self.setting.nothing
            start.detail = (f"{circuit.name}: {supplies[0].post.id}",)
            return start
        pieces = list(extension)
        for each in supplies:
            piece = None
            if each.extension_dmm and not self.keeps_size(circuit, each):
                piece = pieces.pop(0)
            elif each.extension_dmm:
                own = own_extension(self.setting, self.setting.pigtails(circuit)[each.number].wire)
                if own is None:
                    return None
                piece = self.setting.wire(own)
            if not self._arrive(circuit, each, piece, start):
                return None
        return start

    def _arrive(self, circuit: Circuit, supply: Supply, piece: Wire | None, start: Start) -> bool:
        """Add a pigtail, and its extension, at its landing post; False when it cannot be."""
        setting, post = self.setting, supply.post
        pigtail = setting.pigtails(circuit)[supply.number]
        flows = setting.supplied_ma(circuit, supply.number)
        total, own, loom = max(flows), setting.wire(pigtail.wire), start.loom
        if supply.path is None:  # a sender's wire of which the file does not say where it comes in
            if not stands_off_loom(setting, own, total):
                return False
        elif not stands_along(setting, own, total, supply.path):
            return False
        else:
            loom.add(supply.path, 1, setting.most_conductors(own, total))
        alone = pigtail.stage != "bench" or setting.has_own_barrel(post)
        shares = f"pigtail {supply.number} alone" if alone else f"bench {circuit.name}"
        stage = pigtail.stage
        end = self.joints.end(shares, stage, own.area_um2, own.insulation_um, flows)
        uohm = setting.pigtail_uohm(pigtail)
        ring, detail = pigtail.ring, f"{circuit.name}: lands on {post.id}"
        if piece is not None:
            if ring is not None and ring.wires > 1:
                return False
            given_end = end
            end = self.joints.end(shares, stage, piece.area_um2, piece.insulation_um, flows)
            butt = self.joints.extension_butt(given_end, end, total)
            if butt is None or not stands_off_loom(setting, piece, total):
                return False
            assert supply.path is not None
            loom.add(supply.path, 0, setting.most_conductors(piece, total))
            length, ring = supply.extension_dmm, None
            uohm += setting.crimped_uohm(piece, length)
            start.tally += butt + Tally(length, 0, 0, setting.cut_micro(piece, length))
            detail += f", extension {piece.name}, {length}"
        if ring is not None:
            made = Ready(ring.thread, ring.tongue_dmm, ring.angle_deg, stage, flows, ring.wires)
            start.ready[post.id] = (*start.ready.get(post.id, ()), made)
        else:
            start.add_end(post.id, end)
        falls = tuple(uohm * each for each in flows)
        if supply.number:
            start.others_nv += ((supply.number, post.id, falls),)
        else:
            start.drop_nv[post.id] = falls
        start.detail += (detail,)
        return True
