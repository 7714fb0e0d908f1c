"""Thread of a stud, 0.1 mm: what washer, nut and thread that must show take, and what is left."""

from __future__ import annotations

from collections.abc import Iterable

from lugwright.base.scale import ceil_div
from lugwright.limits.schema import Limits
from lugwright.scenario.console import Post
from lugwright.stock.schema import Hardware


def used_thread_dmm(
    post: Post, tongues_dmm: Iterable[int], hardware: Hardware, limits: Limits
) -> int:
    """Thread taken: tongues, reserved ones too, lock washer, nut, showing thread. Rule R23."""
    permille = limits.at("showing_thread_permille", post.id)
    showing = ceil_div(permille * hardware.pitch_um, 1000 * 100)
    washer = hardware.lock_washer_dmm if limits.lock_washer else 0
    reserved = post.reserved * post.reserved_tongue_dmm
    return sum(tongues_dmm) + reserved + washer + hardware.nut_dmm + showing


def thread_for_tongues_dmm(post: Post, hardware: Hardware, limits: Limits) -> int:
    """Thread for tongues of lugs that are not reserved; below nought where there is none."""
    return post.free_thread_dmm - used_thread_dmm(post, (), hardware, limits)
