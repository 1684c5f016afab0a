"""Records that come back from the pages."""
