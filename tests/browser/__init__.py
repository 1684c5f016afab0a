"""Tests that drive the compiled pages in a headless browser, from the disk."""
