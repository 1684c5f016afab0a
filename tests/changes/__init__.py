"""What is told of the difference between two issues."""
