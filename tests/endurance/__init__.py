"""Kills, births, damage, slips and chance, many times over: commands that print and take a seed.

    python -m tests.endurance.kills --seed 2026 --count 5000
    python -m tests.endurance.births --seed 1 --count 60
    python -m tests.endurance.window_kills --seed 2026 --count 300
    python -m tests.endurance.damage --seed 2026 --count 10000
    python -m tests.endurance.power_cuts --seed 2026 --count 2000
    python -m tests.endurance.failing_io --seed 1 --count 3300
    python -m tests.endurance.full_disk
    python -m tests.endurance.read_only
    python -m tests.endurance.blocks --seed 2027 --count 13000
    python -m tests.endurance.restores --seed 2026 --count 240
    python -m tests.endurance.slips --seed 2026 --count 100000
    python -m tests.endurance.findings_honesty --seed 3 --count 2000

Each writes what it found line by line to its results file and goes on from there when it is started
again; each has a control, a build made wrong on purpose, that it must catch. Short versions run in
the suite (`test_short_runs.py`).
"""
