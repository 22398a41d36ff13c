#!/usr/bin/python3
"""Plays the shelf of bench/planning_bench.cpp with SimPy and prints events and women a second of processor time.

An event is a process that SimPy resumes: a woman who comes, a garment that comes back.
Usage: bench/simpy_shelf.py [WOMEN]     (needs python3-simpy)
"""
import pathlib
import sys
import time

sys.path.insert(0, str(pathlib.Path(__file__).parents[1] / "tests" / "reference"))
from garment_simulation import missed  # noqa: E402

women = int(sys.argv[1]) if len(sys.argv) > 1 else 300_000
start = time.process_time()
share, _ = missed(garments=4, rate=1, away=2, women=women, seed=2)
took = time.process_time() - start
print(round(women * (2 - share) / took), round(women / took))
