"""A new pack: a few plain answers become a folder of YAML that a club secretary can read, and whose cases pass."""

from afield.core.authoring.scaffold.answers import Answers, Chosen
from afield.core.authoring.scaffold.folder import new_pack, prove
from afield.core.authoring.scaffold.starters import Starter, offered_starters

__all__ = ["Answers", "Chosen", "Starter", "new_pack", "offered_starters", "prove"]
