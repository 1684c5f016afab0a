"""From the walk-through to what can be worked out: tools, parts, torques, times, isolations."""
