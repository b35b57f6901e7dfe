"""What an author of plugins starts from and looks things up in: the scaffold and the reference."""
