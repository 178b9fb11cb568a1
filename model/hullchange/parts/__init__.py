"""What can be built: plates, the parametric parts made of them, their CAD solids."""
