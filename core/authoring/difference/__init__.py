"""Two versions of a pack: what became stricter or looser, decided by judging the same facts by both."""
