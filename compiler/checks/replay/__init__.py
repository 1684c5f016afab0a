"""The walk-through done again on every way through its branches, with the state after each act."""

from compiler.checks.replay.replay import replay
from compiler.checks.replay.way import Doing, Ending, Moment, Replay, Way

__all__ = ["Doing", "Ending", "Moment", "Replay", "Way", "replay"]
