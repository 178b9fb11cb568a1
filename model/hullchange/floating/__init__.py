"""Integrals under a plane, equilibrium, hydrostatics, righting levers."""
