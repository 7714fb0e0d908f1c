"""From a bare choice to the whole plan: labels, order on the studs, steps, totals."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from lugwright.assemble.barrels import way_round
from lugwright.assemble.buy import build_buy_list, stated_fuses
from lugwright.assemble.cable_ties import build_ties
from lugwright.assemble.caps import build_caps
from lugwright.assemble.cautions import cautions_for
from lugwright.assemble.crimps import CrimpSheet, write_crimps
from lugwright.assemble.currents import flow
from lugwright.assemble.drops import load_drops
from lugwright.assemble.ends import barrel_wires, given_ends
from lugwright.assemble.panel import panel_of
from lugwright.assemble.part_numbers import PartNumbers
from lugwright.assemble.stacks import build_stacks, stud_lugs
from lugwright.assemble.stated import limits_used, stated_digests
from lugwright.assemble.steps import build_steps
from lugwright.assemble.totals import objective_cost, sum_totals
from lugwright.assemble.way_rows import way_rows
from lugwright.assemble.wires import WireShop, cut_wires, strip_lengths
from lugwright.assemble.worked_up import WorkedUp
from lugwright.assemble.working_order import circuits_in_order, node_finder, post_ranks
from lugwright.base.identity import NO_WIRE
from lugwright.base.scale import amps_text, mm_text
from lugwright.limits.schema import Limits
from lugwright.plans.choice import Choice
from lugwright.plans.outcome import UNSEARCHED_TIE_RULE, Ending, Outcome
from lugwright.plans.schema import (
    CircuitWire,
    Jumper,
    Landing,
    LiveRow,
    Plan,
    Proof,
    Splice,
    Totals,
    WaiverUsed,
    Waypoint,
)
from lugwright.readings.lines import sheet_of
from lugwright.readings.procedure import proving_steps
from lugwright.routes.free_ends import routes_to_ends
from lugwright.routes.schema import Routes
from lugwright.scenario.brief import Brief
from lugwright.scenario.console import Console
from lugwright.trade.given_wires import fused_by_maker
from lugwright.trade.hubs import NO_HUB
from lugwright.trade.live import live_states
from lugwright.trade.names import join_of, pigtail_wire, point_of_end


def assemble_plan(
    brief: Brief,
    routes: Routes,
    outcome: Outcome,
    made_with: str,
    numbers: PartNumbers | None = None,
    family: str = "",
) -> Plan:
    """Work an outcome's choice up into the whole plan.

    ``made_with`` names program and solver, ``numbers`` is shared by the plans of a family,
    ``family`` its name.

    The order of the choice's parts does not matter: equal choices give equal plans. Raises
    ValueError when the outcome holds no choice, KeyError when the choice names a post, fitting
    or spool that does not exist, or leaves a wire end without a fitting,
    and ``routes.errors.NoPath`` where no way leads between two joints it wires.
    """
    if outcome.choice is None:
        raise ValueError("this outcome holds no choice to assemble a plan from")
    choice = outcome.choice
    brief, routes = _with_ends(brief, routes, choice)
    console, limits = brief.console, brief.limits
    used = limits_used(limits)
    work = _work_up(brief, routes, choice, numbers or PartNumbers())
    totals = sum_totals(work.cut.jumpers, work.sheet.crimps, work.stacks, work.splices, brief)
    plan = Plan(
        title=console.title,
        family=family,
        rule_set=limits.rule_set,
        made_with=made_with,
        inputs=stated_digests(brief, used),
        panel=panel_of(brief),
        hub=_hub(console, choice),
        landings=work.landings,
        circuit_wires=_circuit_wires(console, work.cut.jumpers),
        jumpers=work.cut.jumpers,
        given=work.cut.given,
        crimps=work.sheet.crimps,
        splices=work.splices,
        stacks=work.stacks,
        caps=work.caps,
        ties=work.ties.ties,
        steps=build_steps(work),
        drops=work.drops,
        ways=work.ways,
        live=tuple(
            LiveRow(state=one.name, set_to=one.set_to, live=one.live)
            for one in live_states(console)
        ),
        fuses=_fuse_words(console),
        buy=build_buy_list(
            brief,
            work.cut.jumpers,
            work.sheet.crimps,
            work.caps,
            work.stacks,
            work.ties.ties,
        ),
        totals=totals,
        proof=_proof(outcome, totals, limits),
        limits=used,
        waivers=_waivers(limits),
        cautions=cautions_for(console, limits.rule_set),
    )
    proving = proving_steps(sheet_of(plan), len(plan.steps) + 1)
    return plan.model_copy(update={"steps": (*plan.steps, *proving)})


def _with_ends(brief: Brief, routes: Routes, choice: Choice) -> tuple[Brief, Routes]:
    """The brief with every lead whose end was chosen ending there, and the routes to it."""
    at = routes.places()
    ends = {lead: point_of_end(end) for lead, end in choice.ends}
    posts = tuple(
        replace(post, at=at[ends[post.id]]) if post.id in ends else post
        for post in brief.console.posts
    )
    moved = replace(brief, console=replace(brief.console, posts=posts)) if ends else brief
    return moved, routes_to_ends(routes, ends)


def _waivers(limits: Limits) -> tuple[WaiverUsed, ...]:
    """Every waiver of the scenario, as paper prints it."""
    return tuple(
        WaiverUsed(
            limit=waiver.limit,
            place=waiver.place,
            value=waiver.text,
            reason=waiver.reason,
            initials=waiver.initials,
            date=waiver.date,
            origin=waiver.origin.on_paper,
        )
        for waiver in limits.waivers
    )


def _work_up(
    brief: Brief,
    routes: Routes,
    choice: Choice,
    numbers: PartNumbers,
) -> WorkedUp:
    """Everything the steps are written from."""
    console, stock = brief.console, brief.stock
    landings = dict(choice.landings)
    currents = flow(console, landings, choice.jumpers)
    ends = given_ends(brief, landings, currents)
    known = barrel_wires(brief, currents, ends, choice.extensions)
    fittings = tuple(
        way_round(chosen, stock.fitting(chosen.item), known) for chosen in choice.fittings
    )
    strips = strip_lengths(fittings, brief)
    shop = WireShop(brief, routes, strips, numbers)
    cut = cut_wires(shop, currents, ends, choice.extensions)
    ranks = post_ranks(console, _hub_names(console, choice))
    posts = {post.id: post for post in console.posts}
    sheet = write_crimps(fittings, stock, posts, ranks, cut, known)
    lengthened: set[str] = {item.wire for item in choice.extensions}
    lugs = stud_lugs(console, sheet, ends, lengthened, currents)
    return WorkedUp(
        brief=brief,
        landings=_landings(brief.console, choice, cut.jumpers),
        cut=cut,
        sheet=sheet,
        splices=_splices(routes, console, sheet, cut.splices),
        stacks=build_stacks(brief, ranks, lugs, cut),
        caps=build_caps(brief),
        ties=build_ties(brief, cut),
        drops=load_drops(brief, currents, landings, cut),
        ways=way_rows(brief.console, brief.limits),
    )


def _hub_names(console: Console, choice: Choice) -> list[str]:
    """The instruments the circuits land on, by name.

    What a way leads to a single post lands there whatever the hub, and a stop or signal circuit on
    any of its posts: they have no say, unless no circuit has one.
    """
    node_of = node_finder(console)
    lone = {
        one.name
        for one in console.circuits
        if one.side in NO_HUB
        or (one.supplied_by and len({node_of(post) for post in (*one.posts, one.supplied_by)}) < 3)
    }
    told = [post for name, post in choice.landings if name not in lone]
    told = told or [post for _, post in choice.landings]
    return sorted({console.post(post).instrument for post in told})


def _hub(console: Console, choice: Choice) -> str:
    """The hub, or the hubs of several circuits in one line."""
    return ", ".join(_hub_names(console, choice))


def _landings(console: Console, choice: Choice, jumpers: Sequence[Jumper]) -> tuple[Landing, ...]:
    """Where each supply lands, by circuit: a pigtail, with the extension it needs, or a way."""
    added = {item.from_joint: item.label for item in jumpers if item.role == "extension"}
    found = []
    for name, post in sorted(choice.landings):
        far = console.circuit(name).supplied_by
        pigtail = NO_WIRE if far else pigtail_wire(name)
        extension = added.get(join_of(pigtail), "") if pigtail else ""
        found.append(
            Landing(circuit=name, post=post, pigtail=pigtail, extension=extension, way=far)
        )
    return tuple(found)


def _splices(
    routes: Routes, console: Console, sheet: CrimpSheet, labels: Mapping[str, str]
) -> tuple[Splice, ...]:
    """The splices, in the order they are crimped; ``labels`` by splice point."""
    places = {
        labels[point.id]: point
        for circuit in console.circuits
        for point in routes.splice_points(circuit.name)
        if point.id in labels
    }
    return tuple(
        Splice(
            label=crimp.joint,
            circuit=places[crimp.joint].circuit,
            at=Waypoint(
                x_dmm=places[crimp.joint].at.x_dmm,
                y_dmm=places[crimp.joint].at.y_dmm,
                z_dmm=places[crimp.joint].at.z_dmm,
                tie=places[crimp.joint].tie,
            ),
            crimp=crimp.number,
        )
        for crimp in sheet.crimps
        if crimp.joint in places
    )


def _circuit_wires(console: Console, jumpers: Sequence[Jumper]) -> tuple[CircuitWire, ...]:
    """The wire size of each circuit, extensions of its pigtail included; "" where none is cut."""
    found = []
    for circuit in circuits_in_order(console):
        own = [item for item in jumpers if item.circuit == circuit.name and item.stage == "bench"]
        pigtail = join_of(pigtail_wire(circuit.name))
        if circuit.pigtail is None or not circuit.pigtail.of_boat:
            own += [one for one in jumpers if one.from_joint == pigtail and one.stage == "aboard"]
        sizes = sorted({item.wire_size for item in own})
        found.append(
            CircuitWire(
                circuit=circuit.name,
                colour=circuit.colour,
                colour_code=circuit.colour_code,
                wire_size="mixed" if len(sizes) > 1 else "".join(sizes),
            )
        )
    return tuple(found)


def _fuse_words(console: Console) -> tuple[str, ...]:
    """Every stated fuse in words; a pigtail's with its distance from the source, where stated."""
    distances: dict[str, int] = {
        pigtail_wire(circuit.name): circuit.pigtail.fuse_distance_dmm
        for circuit in console.circuits
        if circuit.pigtail is not None and circuit.pigtail.fuse_distance_dmm
    }
    said = fused_by_maker(console)

    def by_maker(wires: tuple[str, ...]) -> str:
        return f"{', '.join(wires)} by the maker's word, not by law"

    return tuple(
        f"{wire}: {amps_text(rating)} A"
        + (f", {mm_text(distances[wire])} mm from the source" if wire in distances else "")
        + (f", over {by_maker(said[wire])}" if wire in said else "")
        for wire, rating in stated_fuses(console)
    )


def _proof(outcome: Outcome, totals: Totals, limits: Limits) -> Proof:
    """What the search knows; a choice nobody searched for gets its cost and no bound."""
    levels, cost = outcome.levels, outcome.cost
    if not cost:
        levels, cost = objective_cost(totals, limits)
    return Proof(
        objective=limits.objective,
        levels=levels,
        cost=cost,
        bound=outcome.bound,
        proved=outcome.ending is Ending.PROVED,
        tie_rule=outcome.tie_rule or UNSEARCHED_TIE_RULE,
        note=outcome.note,
        held=outcome.held,
    )
