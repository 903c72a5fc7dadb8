"""The kit: strips, control solution, lancets, meters, the sharps container, things for a low.

Each module knows one thing: what is kept about it and what follows from that. `kit_data` gathers
all of it. No sentences for the person and no clock here.
"""
