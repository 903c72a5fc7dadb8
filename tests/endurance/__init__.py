"""Kills, births and damage, many times over: commands that print and take a seed.

    python -m tests.endurance.kills --seed 1 --count 300
    python -m tests.endurance.births --seed 1 --count 60
    python -m tests.endurance.damage --seed 1 --count 1000

Each writes what it found line by line to its results file and goes on from there when it is started
again; each has a control, a build made wrong on purpose, that it must catch. Short versions run in
the suite (`test_short_runs.py`).
"""
