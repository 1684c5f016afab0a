"""Answers to a technician's questions on the command line, from the tables that procedures use."""
