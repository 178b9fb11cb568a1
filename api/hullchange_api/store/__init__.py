"""Where refits are kept between sessions."""
