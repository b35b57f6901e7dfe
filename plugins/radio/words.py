"""Words that several modules say."""

from __future__ import annotations

from afield.core.api import _
from afield.plugins.radio.computations.checked import OutOfRange


def refused(error: ValueError) -> str:
    """Why a computation refused a figure: what is said of a frequency in the reader's language, else in English."""
    if not (isinstance(error, OutOfRange) and error.name == "frequency"):
        return str(error)
    mhz, least, most = f"{error.number:.12g}", f"{error.least:g}", f"{error.most:g}"
    return _("frequency {mhz} MHz is outside {least} to {most}").format(mhz=mhz, least=least, most=most)
