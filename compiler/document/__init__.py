"""What a reader sees: made from the walk-through and the derived lists, read by the emitters."""
