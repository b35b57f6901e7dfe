"""The exit statuses of the commands, by what they found."""

from __future__ import annotations

EXIT_OK, EXIT_FAILED, EXIT_USAGE, EXIT_CANNOT_TELL, EXIT_CRASH = 0, 1, 2, 3, 4
