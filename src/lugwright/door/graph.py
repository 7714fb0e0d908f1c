"""A plan's wiring as a networkx multigraph: joints are nodes, each wire is an edge."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lugwright.base.scale import DMM_PER_MM
from lugwright.plans.schema import Plan

if TYPE_CHECKING:
    from networkx import MultiGraph


def wiring(plan: Plan) -> MultiGraph[str]:
    """The wiring of a plan.

    Nodes are joints: posts as ``fuel.ground``, splices by their labels, the butt of a lengthened
    wire. A node's attributes: ``kind`` (``post`` or ``splice``) and, for a post, ``instrument``
    and ``circuit``. Each jumper is an edge whose key is its label, from end a to end b, with
    ``circuit``, ``length_mm`` (cut length), ``path_mm``, ``current_ma`` (worst case),
    ``wire_size``, ``colour``, ``stage`` and ``role``. Posts that no jumper reaches are nodes too.
    A way of a device is an edge from its near to its far post whose ``role`` is ``way``, its key
    ``way FAR POST``, with ``kind``, ``circuit`` (what it supplies, "" where nothing),
    ``current_ma``, ``carries_ma`` and ``fuse_ma`` (0: none) and no length.
    """
    import networkx

    graph: MultiGraph[str] = networkx.MultiGraph(title=plan.title, hub=plan.hub)
    for post in plan.panel.posts:
        graph.add_node(post.id, kind="post", instrument=post.instrument, circuit=post.circuit)
    for splice in plan.splices:
        graph.add_node(splice.label, kind="splice", instrument="", circuit=splice.circuit)
    for jumper in plan.jumpers:
        for joint in (jumper.from_joint, jumper.to_joint):
            if joint not in graph:
                graph.add_node(joint, kind="splice", instrument="", circuit=jumper.circuit)
        graph.add_edge(
            jumper.from_joint,
            jumper.to_joint,
            key=jumper.label,
            circuit=jumper.circuit,
            length_mm=jumper.length_dmm / DMM_PER_MM,
            path_mm=jumper.path_dmm / DMM_PER_MM,
            current_ma=jumper.current_ma,
            wire_size=jumper.wire_size,
            colour=jumper.colour,
            stage=jumper.stage,
            role=jumper.role,
        )
    for way in plan.ways:
        graph.add_edge(
            way.near,
            way.far,
            key=f"way {way.far}",
            circuit=way.circuit,
            kind=way.kind,
            current_ma=way.current_ma,
            carries_ma=way.carries_ma,
            fuse_ma=way.fuse_ma,
            role="way",
        )
    return graph
