"""Integrals under a plane, equilibrium, hydrostatics."""
