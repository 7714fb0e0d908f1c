"""The base of every part of a plan."""

from __future__ import annotations

from pydantic import BaseModel, ConfigDict


class Record(BaseModel):
    """Base of every part of a plan: frozen, and no unknown keys.

    A model is made ready when it is first used: a plan is read by one, which holds all others.
    """

    model_config = ConfigDict(extra="forbid", frozen=True, defer_build=True)
