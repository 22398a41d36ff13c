#!/usr/bin/python3
"""Plays one shelf through with SimPy, another simulator than the core's, and compares with what the tests in
core/stanch/planning/simulation_test.cpp expect.

Run with the system's Python, which needs python3-simpy: tests/reference/garment_simulation.py
Exit code 0 when it agrees, 1 when it does not, 77 when SimPy is missing.
"""
import math
import random
import sys

try:
    import SimPy.Simulation as simpy
except ImportError:
    print("garment_simulation: skipped, python3-simpy is not installed")
    sys.exit(77)

BATCHES = 20


class Shelf(simpy.Process):
    """Women come one after the other; each takes a garment if there is one."""

    def live(self, random, rate, away, women):
        self.found = []
        for _ in range(women):
            yield simpy.hold, self, random.expovariate(rate)
            self.found.append(self.sim.ready > 0)
            if self.sim.ready > 0:
                self.sim.ready -= 1
                garment = Garment(sim=self.sim)
                self.sim.activate(garment, garment.live(random.expovariate(1 / away)))


class Garment(simpy.Process):
    def live(self, away):
        yield simpy.hold, self, away
        self.sim.ready += 1


def missed(garments, rate, away, women, seed):
    """Share of women who find none, and its standard error by batches."""
    run = simpy.Simulation()
    run.initialize()
    run.ready = garments
    shelf = Shelf(sim=run)
    run.activate(shelf, shelf.live(random.Random(seed), rate, away, women))
    run.simulate(until=10 * women / rate)
    size = women // BATCHES
    batches = [1 - sum(shelf.found[i * size : (i + 1) * size]) / size for i in range(BATCHES)]
    mean = sum(batches) / BATCHES
    return mean, math.sqrt(sum((b - mean) ** 2 for b in batches) / (BATCHES - 1) / BATCHES)


def main():
    mean, error = missed(garments=4, rate=1, away=2, women=300_000, seed=2)
    good = abs(mean - 2 / 21) < 4 * error
    if not good:
        print(f"SimPy: {mean:.5f} +- {error:.5f}, the tests have {2 / 21:.5f}")
    print(f"garment_simulation: {int(good)} passed, {int(not good)} failed")
    return 0 if good else 1


if __name__ == "__main__":
    sys.exit(main())
