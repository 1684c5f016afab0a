"""From the model to the walk-through: repeats, variants, calls and ways back written out."""
