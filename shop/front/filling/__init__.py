"""A large invented database to measure speed on.

Rows are written in bulk, past the services, since only their number and their shape matter here;
what the services hold (layers tie with the ledger, nothing lies below zero) holds here too.
"""
