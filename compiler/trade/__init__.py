"""What the trade knows, as plain data and plain functions, with the source beside each table."""
