"""Wire, stacked lugs, fittings and money as sums over the variables."""

from __future__ import annotations

from dataclasses import dataclass

from lugwright.limits.schema import Limits
from lugwright.model.formulation.objective import Objective
from lugwright.model.formulation.rework import changes_of
from lugwright.model.formulation.stud_room import posed
from lugwright.model.formulation.variables import Linear, Variables, total
from lugwright.problem.schema import WireChoice
from lugwright.trade.money import cut_piece_micro


def wire_micro(choice: WireChoice, length_dmm: int, limits: Limits) -> int:
    """Money for one cut piece: its wire, rounded up, and the cutting. Rule R27."""
    return cut_piece_micro(length_dmm, choice.price_micro_per_m, limits)


@dataclass(frozen=True)
class CostTerms:
    """The quantities of an ask as linear expressions (see ``objective.Sums``)."""

    wire: Linear
    stacked: Linear
    tallest: Linear
    fittings: Linear
    money: Linear
    changes: Linear
    folds: Linear
    margin: Linear

    def scalar(self, objective: Objective) -> Linear:
        """The folded objective."""
        return (
            objective.wire * self.wire
            + objective.stacked * self.stacked
            + objective.tallest * self.tallest
            + objective.fittings * self.fittings
            + objective.money * self.money
            + objective.changes * self.changes
        )


def cost_terms(v: Variables) -> CostTerms:
    """Sum up everything asked for. Rules R26, R28."""
    limits = v.problem.limits
    wire: list[Linear] = [arc.edge.length_dmm * arc.use for arc in v.arcs]
    money: list[Linear] = [
        wire_micro(arc.choice, arc.edge.length_dmm, limits) * arc.use for arc in v.arcs
    ]
    fittings: list[Linear] = []
    folds: list[Linear] = []
    margin: list[Linear] = []
    for picks in v.picks.values():
        folds += [option.folds * use for option, use in picks if option.folds]
        margin += [option.margin_um2 * use for option, use in picks if option.margin_um2]
        fittings += [option.fittings * use for option, use in picks if option.fittings]
        money += [option.money_micro * use for option, use in picks if option.money_micro]
    for source in v.sources:
        circuit = v.problem.circuit(source.circuit)
        if source.extension:
            length = source.landing.extension_dmm
            butt = circuit.butts[source.extension.size]
            wire.append(length * source.use)
            fittings.append(butt.fittings * source.use)
            folds.append(butt.folds * source.use)
            margin.append(butt.margin_um2 * source.use)
            piece = wire_micro(source.extension, length, limits) + butt.money_micro
            money.append(piece * source.use)
        elif circuit.supply and circuit.supply.ready_money_micro:
            money.append(circuit.supply.ready_money_micro * source.use)
    money += [a.money_micro for a in v.problem.boat_groups if a.money_micro and posed(v, a)]
    if v.ask.rest:
        for need in v.problem.extensions:
            wire.append(need.length_dmm)
            money.append(need.money_micro)
            fittings.append(need.butt.fittings)
            folds.append(need.butt.folds)
            margin.append(need.butt.margin_um2)
    tallest: Linear = v.tallest if v.tallest is not None else 0
    stacked, changes = total(v.stacked), changes_of(v)
    return CostTerms(
        total(wire),
        stacked,
        tallest,
        total(fittings),
        total(money),
        changes,
        total(folds),
        total(margin),
    )
