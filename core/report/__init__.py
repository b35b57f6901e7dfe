"""The report: closed JSON, the only input of all that is printed."""
