"""The tests of Spannerleaf, a room for each stage of the program."""
