"""The trade, a package a subject: what can be computed of an outing. Nothing here judges."""
