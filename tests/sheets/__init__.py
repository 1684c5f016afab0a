"""Tests that make PDF sheets and read them back."""
