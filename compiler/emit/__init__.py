"""Pages, sheets, lists and data, made from the finished document."""
