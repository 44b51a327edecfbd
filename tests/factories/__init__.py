"""Factories with fixed days and values. One module a house; nothing random."""
