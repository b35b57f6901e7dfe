"""What the tests of the project and of plugins share: the runner of check files."""
