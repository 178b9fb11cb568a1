"""What can be built: plates, and the parametric parts made of them."""
